#include <algorithm>
#include <cmath>

#include "report/cautions.hpp"
#include "report/check_report.hpp"
#include "report/figure_label.hpp"
#include "search/lock_document.hpp"

namespace sprocketry::report {
namespace {

using search::FigureDrift;
using search::LockedRule;
using search::Outcome;
using search::PartDrift;
using search::RuleDrift;

std::string counted(std::size_t count, const char* one, const char* more) {
  return grouped(count) + ' ' + (count == 1 ? one : more);
}

std::string number(const Shown& shown, const std::optional<double>& value) {
  return value ? shown_value(shown, *value) : "?";
}

std::string change(const FigureDrift& drift) {
  if (!drift.then) return "not locked";
  if (!drift.now) return "no longer computed";
  if (std::isnan(*drift.then) && std::isnan(*drift.now)) return "";
  if (std::isnan(*drift.then)) return "exists now";
  if (std::isnan(*drift.now)) return "no longer exists";
  const double share = (*drift.now - *drift.then) / std::abs(*drift.then) * 100;
  if (!std::isfinite(share)) return *drift.now == *drift.then ? "0.0 %" : "from 0";
  const std::string text = rounded(share, std::abs(share) < 1 ? 2 : 1);
  return (share > 0 ? "+" : "") + text + " %";
}

bool moved(const FigureDrift& drift) {
  // A figure that neither the lock nor today's design has is not worth a line.
  if (!drift.then) return drift.now && !std::isnan(*drift.now);
  if (!drift.now) return !std::isnan(*drift.then);
  if (std::isnan(*drift.then) && std::isnan(*drift.now)) return false;
  // Text that is read back is the same double; anything else is a difference.
  return *drift.then != *drift.now;
}

bool model_moved(const search::Check& check) {
  return std::ranges::any_of(check.figures, [](const FigureDrift& drift) {
    if (!drift.then || !drift.by_model) return false;
    return *drift.then != *drift.by_model &&
           !(std::isnan(*drift.then) && std::isnan(*drift.by_model));
  });
}

void write_figures(std::ostream& out, const CheckAnswer& a, bool all, Colour colour) {
  const spec::Requirement& requirement = a.check.job->requirement;
  const bool with_model = model_moved(a.check);
  std::vector<Column> columns = {{"figure", false}, {"then"}};
  if (with_model) columns.push_back({"program"});
  columns.insert(columns.end(), {{"now"}, {"unit", false}, {"change"}, {"may move"}, {"", false}});
  std::vector<std::vector<std::string>> rows;
  for (const FigureDrift& drift : a.check.figures) {
    if (!all && !moved(drift)) continue;
    Shown s = shown_figure(drift.key, requirement);
    // A drift of some percent must show, and money is counted in cents.
    s.decimals = s.unit == requirement.currency ? 2 : s.decimals + 1;
    std::vector<std::string> row = {s.label, number(s, drift.then)};
    if (with_model) row.push_back(number(s, drift.by_model));
    row.insert(row.end(), {number(s, drift.now), s.unit, change(drift),
                           text_of(a.lock.tolerances.of(drift.key)), drift.beyond ? "BEYOND" : ""});
    rows.push_back(std::move(row));
  }
  out << '\n';
  if (rows.empty()) {
    out << "All " << a.check.figures.size() << " figures are as they were locked.\n";
    return;
  }
  out << table(columns, rows, "  ", colour);
  const std::size_t still = a.check.figures.size() - rows.size();
  if (still > 0) out << "  " << counted(still, "figure is", "figures are") << " as locked.\n";
  if (with_model) {
    out << wrapped("The column `program` is what this program (" + std::string(a.version) +
                       ") makes of the locked input; the lock was written by " + a.lock.model +
                       ". What differs there is the program's doing, not the parts'.",
                   "  ");
  }
}

std::string side(const std::optional<LockedRule>& rule, const spec::Requirement& requirement) {
  if (!rule) return "-";
  if (rule->outcome == Outcome::kUnchecked) return "not checked";
  if (std::isnan(rule->margin)) return std::string(name_of(rule->outcome));
  const DisplayUnit shown = display_unit(rule->unit, requirement.units);
  const double margin = rule->margin * shown.factor;
  const bool cents = rule->unit == requirement.currency || std::abs(margin) < 10;
  const int decimals = cents ? 2 : 1;
  return rounded(margin, decimals) + (rule->unit.empty() ? "" : ' ' + shown.symbol);
}

bool rule_moved(const RuleDrift& drift) {
  if (drift.broken() || !drift.then || !drift.now) return true;
  if (drift.then->outcome != drift.now->outcome) return true;
  const double a = drift.then->margin;
  const double b = drift.now->margin;
  return a != b && !(std::isnan(a) && std::isnan(b));
}

void write_rules(std::ostream& out, const CheckAnswer& a, bool all, Colour colour) {
  std::vector<std::vector<std::string>> rows;
  for (const RuleDrift& drift : a.check.rules) {
    if (!all && !rule_moved(drift)) continue;
    const LockedRule& rule = drift.either();
    const std::string name = rule.rule + (rule.about.empty() ? "" : " (" + rule.about + ")");
    const std::string now = drift.now ? std::string(name_of(drift.now->outcome)) : "not asked";
    const spec::Requirement& requirement = a.check.job->requirement;
    rows.push_back({name, side(drift.then, requirement), side(drift.now, requirement),
                    drift.broken() ? "BROKEN" : now});
  }
  out << '\n';
  if (rows.empty()) {
    out << "All " << a.check.rules.size() << " rules have the margins that were locked.\n";
    return;
  }
  out << table({{"rule", false}, {"margin then"}, {"margin now"}, {"now", false}}, rows, "  ",
               colour);
  const std::size_t still = a.check.rules.size() - rows.size();
  if (still > 0) out << "  " << counted(still, "rule is", "rules are") << " as locked.\n";
}

void write_gone(std::ostream& out, const PartDrift& part, const std::string& currency) {
  out << "  " << part.name << (part.missing.empty() ? "" : " with " + part.missing)
      << ": GONE from " << part.list;
  if (part.owned) out << " (owned, so it still counts)";
  if (part.renamed) {
    out << "; " << part.nearest << " has the same data: renamed?";
  } else if (!part.nearest.empty()) {
    out << "; the nearest name is " << part.nearest;
  }
  out << '\n';
  if (part.is_extra() && !part.owned) out << "    it is left out of all that follows\n";
  for (const search::StandIn& stand_in : part.stand_ins) {
    out << "    " << stand_in_text(stand_in, currency) << '\n';
  }
}

void write_parts(std::ostream& out, const CheckAnswer& a, Colour colour) {
  const auto& parts = a.check.parts;
  const auto same = static_cast<std::size_t>(
      std::ranges::count(parts, PartDrift::State::kSame, &PartDrift::state));
  out << '\n' << bold("Parts", colour) << '\n';
  for (const PartDrift& part : parts) {
    if (part.state == PartDrift::State::kGone) {
      write_gone(out, part, a.check.job->requirement.currency);
    }
    for (const auto& change : part.changes) {
      out << "  " << part.name << ": " << change.field << " was " << change.from << ", is "
          << change.to << '\n';
    }
  }
  for (const std::string& id : a.check.extras_added) out << "  " << id << ": needed now\n";
  for (const std::string& id : a.check.extras_dropped) out << "  " << id << ": no longer needed\n";
  if (same > 0) out << "  " << counted(same, "entry is", "entries are") << " as locked.\n";
}

// What today's parts files no longer ask for is left out by whoever accepts them.
void write_step_past_extra(std::ostream& out, const CheckAnswer& a) {
  out << wrapped(
      "If the bike needs what is GONE, write it into a parts file under its new name. To go "
      "on with the extras of today's parts files:",
      "  ");
  out << "    sprocketry check " << a.lock_file << " --accept\n";
}

// Without another part in its place the design is not to be had, so what is gone cannot be
// accepted.
void write_step_past_gone(std::ostream& out, const CheckAnswer& a) {
  if (std::ranges::all_of(a.check.parts, [](const PartDrift& part) {
        return !part.unobtainable() || part.is_extra();
      })) {
    write_step_past_extra(out, a);
    return;
  }
  const auto gone = std::ranges::count_if(a.check.parts, &PartDrift::unobtainable);
  const auto part = std::ranges::find_if(a.check.parts, &PartDrift::unobtainable);
  const auto stand_in = std::ranges::find_if(
      part->stand_ins, [](const search::StandIn& s) { return s.breaks.empty(); });
  if (gone > 1 || stand_in == part->stand_ins.end()) {
    out << wrapped(
        "What is gone cannot be accepted: choose another design by `search`, and lock "
        "it.",
        "  ");
    return;
  }
  search::Lock other = a.lock;
  other.design = stand_in->design;
  other.set.insert(other.set.end(), a.overrides.begin(), a.overrides.end());
  out << "  To go on with " << stand_in->part << " in its place";
  if (!stand_in->rejected_by.empty()) out << ", though it does not mend what is BROKEN";
  out << ":\n    " << search::renewal(other, a.lock_file) << '\n';
}

// What to do about a lock that no longer holds; a command has a line of its own, to be copied.
void write_next_step(std::ostream& out, const CheckAnswer& a) {
  if (a.accepting) return;
  if (std::ranges::any_of(a.check.parts, &PartDrift::unobtainable)) {
    write_step_past_gone(out, a);
    return;
  }
  if (std::ranges::any_of(a.check.rules, &RuleDrift::broken)) {
    out << wrapped(
        "What is BROKEN cannot be accepted: it stays broken. Choose another design by "
        "`search`, or ask for less, and lock that.",
        "  ");
  } else if (!a.overrides.empty()) {
    out << "  The lock asks this without --set. To lock the design for what was asked now:\n    ";
    search::Lock other = a.lock;
    other.set.insert(other.set.end(), a.overrides.begin(), a.overrides.end());
    out << search::renewal(other, a.lock_file) << '\n';
  } else {
    out << "  To take what is as the new state:\n    sprocketry check " << a.lock_file
        << " --accept\n";
  }
}

// The overrides that ask what the file asks today; nothing where a key was taken out of it, or
// where a value cannot stand between quotes.
std::optional<std::string> as_overrides(const std::vector<parts::FieldChange>& changes) {
  std::string text;
  for (const parts::FieldChange& change : changes) {
    const bool left_out = change.to.starts_with("not given");
    if (left_out || change.to.find('\'') != std::string::npos) return std::nullopt;
    text += " --set '" + change.field + '=' + change.to + '\'';
  }
  return text;
}

// The lock holds its own requirement and ride: those of today's files count when it is written
// anew.
void write_own(std::ostream& out, const CheckAnswer& a, const search::FileDrift& drift) {
  const std::string& path = drift.file.path;
  const std::string own = ", but the lock holds its own " + drift.file.role;
  if (drift.state == search::FileDrift::State::kMissing) {
    out << wrapped(path + " is no longer there" + own + '.', "  ");
    return;
  }
  if (drift.changes && drift.changes->empty()) {
    out << wrapped(path + " has changed since, but asks the same.", "  ");
    return;
  }
  out << wrapped(path + " has changed since" + own + '.', "  ");
  if (drift.changes) {
    for (const parts::FieldChange& change : *drift.changes) {
      out << "    " << change.field << " was " << change.from << ", is " << change.to << '\n';
    }
    if (const auto overrides = as_overrides(*drift.changes)) {
      out << "  To see what that would come to:\n    sprocketry check " << a.lock_file << *overrides
          << '\n';
    }
  }
}

// Whether `lock` would take up other words than the lock holds.
bool is_to_take_over(const search::FileDrift& drift) {
  return drift.file.role != "parts" && drift.state == search::FileDrift::State::kChanged &&
         !(drift.changes && drift.changes->empty());
}

void write_files(std::ostream& out, const CheckAnswer& a) {
  using State = search::FileDrift::State;
  for (const search::FileDrift& drift : a.check.files) {
    if (drift.state == State::kSame) continue;
    if (drift.file.role != "parts") {
      write_own(out, a, drift);
      continue;
    }
    out << "  " << drift.file.path
        << (drift.state == State::kChanged ? " has changed since.\n" : " is no longer there.\n");
  }
  const auto count = std::ranges::count_if(a.check.files, is_to_take_over);
  if (count == 0) return;
  out << (count == 1 ? "  To take it over:\n    " : "  To take them over:\n    ")
      << search::renewal(a.lock, std::string(a.lock_file)) << '\n';
}

}  // namespace

std::string stand_in_text(const search::StandIn& s, const std::string& currency) {
  const double price = static_cast<double>(s.price_change) / parts::kMoneyUnit;
  std::string text = "stand-in " + s.part + ": figures move " + rounded(s.movement * 100, 1) +
                     " % on average, price " + (price < 0 ? "" : "+") + rounded(price, 0) + ' ' +
                     currency;
  for (std::size_t i = 0; i < s.breaks.size(); ++i) {
    text += (i == 0 ? "; but it breaks " : ", ") + s.breaks[i];
  }
  return text;
}

std::string what_fails(const search::Check& check) {
  const auto gone = std::ranges::count_if(check.parts, &PartDrift::unobtainable);
  const auto broken = std::ranges::count_if(check.rules, &RuleDrift::broken);
  const auto beyond = std::ranges::count_if(check.figures, &FigureDrift::beyond);
  std::string text;
  const auto add = [&](auto count, const char* one, const char* more) {
    if (count == 0) return;
    text += (text.empty() ? "" : ", ") + counted(static_cast<std::size_t>(count), one, more);
  };
  add(gone, "part gone", "parts gone");
  add(broken, "rule broken", "rules broken");
  add(beyond, "figure beyond its tolerance", "figures beyond their tolerance");
  return text;
}

void write_check_text(std::ostream& out, const CheckAnswer& a, bool all, Colour colour) {
  const std::string fails = what_fails(a.check);
  out << bold(a.lock.design, colour) << '\n'
      << a.lock_file
      << (fails.empty() ? ": it holds.\n" : ": it no longer holds: " + fails + ".\n");
  write_parts(out, a, colour);
  write_figures(out, a, all, colour);
  write_rules(out, a, all, colour);
  out << '\n';
  write_files(out, a);
  if (!fails.empty()) write_next_step(out, a);
  out << '\n';
  write_cautions(out, a.check.job->requirement, colour);
}

}  // namespace sprocketry::report
