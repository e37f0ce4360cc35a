#include <algorithm>
#include <cmath>
#include <map>

#include "report/cautions.hpp"
#include "report/compare_report.hpp"
#include "report/figure_label.hpp"

namespace sprocketry::report {
namespace {

using search::Ahead;

// Money as one bill shows it: to the cent when one of its amounts has any, so that it adds up as
// printed.
struct Bill {
  int decimals = 0;
  std::string currency;

  [[nodiscard]] std::string text(search::Money amount) const {
    return rounded(static_cast<double>(amount) / parts::kMoneyUnit, decimals) + ' ' + currency;
  }
};
Bill bill_of(const search::Upgrade& u, const std::string& currency) {
  constexpr int kCents = 2;
  const auto broken = [](const auto& one) { return one.price % parts::kMoneyUnit != 0; };
  const bool cents = broken(u) || std::ranges::any_of(u.exchanged, broken) ||
                     std::ranges::any_of(u.bought, broken);
  return {cents ? kCents : 0, currency};
}

const char* name_of_a(const CompareAnswer& a) { return a.running != nullptr ? "today" : "A"; }

// The best of each aim, then the balanced one: labels and members, each member once.
struct Landmark {
  std::string label;
  std::size_t member = 0;
};
std::vector<Landmark> landmarks(const search::Side& side) {
  std::vector<Landmark> list;
  const auto add = [&](const std::string& label, std::size_t member) {
    const auto same = std::ranges::find(list, member, &Landmark::member);
    if (same == list.end()) {
      list.push_back({label, member});
    } else {
      same->label += ", " + label;
    }
  };
  if (side.is_pick) return {{"the pick", 0}};
  const auto& values = side.front.objectives;
  for (std::size_t k = 0; k < side.setup.objectives.size(); ++k) {
    const auto best = std::ranges::min_element(values, {}, [&](const auto& v) { return v[k]; });
    const Shown s = shown(*side.setup.objectives[k], side.job->requirement);
    add("best " + s.label, static_cast<std::size_t>(best - values.begin()));
  }
  add("balanced", search::balanced_member(side.front, side.setup.objectives.size()));
  return list;
}

std::vector<const spec::MetricInfo*> table_metrics(const CompareAnswer& a) {
  auto metrics = a.comparison.aims;
  for (const char* name : {"price", "top_speed", "sustained_speed"}) {
    const spec::MetricInfo* info = spec::find_metric(name);
    if (std::ranges::find(metrics, info) == metrics.end()) metrics.push_back(info);
  }
  return metrics;
}

void write_fronts(std::ostream& out, const CompareAnswer& a, Colour colour) {
  const auto metrics = table_metrics(a);
  const spec::Requirement& requirement = a.a.job->requirement;
  std::vector<Column> columns = {{"", false}, {"design", false}};
  for (const spec::MetricInfo* info : metrics) {
    const Shown s = shown(*info, requirement);
    columns.push_back({s.label, true, s.unit});
  }
  columns.insert(columns.end(),
                 {{"gearing", false}, {"motor", false}, {"controller", false}, {"pack", false}});
  std::vector<std::vector<std::string>> rows;
  const auto add = [&](const char* name, const search::Side& side) {
    if (side.front.members.empty()) return;
    for (const Landmark& landmark : landmarks(side)) {
      const search::Design d = side.design(landmark.member);
      std::vector<std::string> row = {name, landmark.label};
      for (const spec::MetricInfo* info : metrics) {
        row.push_back(shown_value(shown(*info, requirement), info->value(d.metrics)));
      }
      row.push_back(std::to_string(d.parts.front_teeth) + '/' + std::to_string(d.parts.rear_teeth) +
                    " = " + rounded(d.chain.reduction, 2));
      row.insert(row.end(), {d.parts.motor->id, d.parts.controller->id, d.parts.pack->id});
      rows.push_back(std::move(row));
    }
  };
  add(name_of_a(a), a.a);
  add("B", a.b);
  if (!rows.empty()) out << '\n' << table(columns, rows, "", colour);
}

void write_standing(std::ostream& out, const CompareAnswer& a) {
  if (a.a.front.members.empty() || a.b.front.members.empty()) return;
  if (a.running != nullptr || (a.a.is_pick && a.b.is_pick)) return;
  const auto line = [&](const search::Standing& own, const search::Side& side, const char* name,
                        const char* other) {
    const std::size_t size = side.front.members.size();
    out << "Of " << name << "'s " << grouped(size) << (size == 1 ? " design " : " designs ")
        << grouped(own.beaten) << (own.beaten == 1 ? " is" : " are") << " beaten by one of "
        << other << "'s, " << grouped(own.matched) << " matched.\n";
  };
  out << '\n';
  line(a.comparison.a, a.a, "A", "B");
  line(a.comparison.b, a.b, "B", "A");
}

std::string cell(const search::BudgetStep& step, std::size_t k, const Shown& s,
                 const std::string& a) {
  if (!step.a_has || !step.b_has) return shown_value(s, step.a_has ? step.a[k] : step.b[k]);
  if (step.leads[k] == Ahead::kNeither) return shown_value(s, step.a[k]) + " both";
  const bool b = step.leads[k] == Ahead::kB;
  return shown_value(s, b ? step.b[k] : step.a[k]) + (b ? " B" : ' ' + a);
}

std::string ahead_text(const search::BudgetStep& step, const std::string& a) {
  if (step.a_has != step.b_has) return (step.a_has ? a : "B") + " alone";
  switch (step.ahead) {
    case Ahead::kA:
      return a;
    case Ahead::kB:
      return "B";
    case Ahead::kBoth:
      return "each in something";
    case Ahead::kNeither:
      break;
  }
  return "equal";
}

void write_budget(std::ostream& out, const CompareAnswer& a, Colour colour) {
  constexpr std::size_t kMostSteps = 16;
  const auto& steps = a.comparison.budget;
  if (a.a.is_pick && a.b.is_pick) return;
  if (!a.comparison.budget_known || steps.size() < 2) return;
  auto aims = a.comparison.aims;
  std::erase(aims, spec::find_metric("price"));
  const spec::Requirement& requirement = a.a.job->requirement;
  std::vector<Column> columns = {{"budget", true, requirement.currency}, {"ahead", false}};
  for (const auto* info : aims) {
    const Shown s = shown(*info, requirement);
    columns.push_back({s.label, true, s.unit});
  }
  std::vector<std::vector<std::string>> rows;
  for (const search::BudgetStep& step : steps) {
    if (rows.size() == kMostSteps) break;
    std::vector<std::string> row = {rounded(std::ceil(step.budget), 0),
                                    ahead_text(step, name_of_a(a))};
    for (std::size_t k = 0; k < aims.size(); ++k) {
      row.push_back(cell(step, k, shown(*aims[k], requirement), name_of_a(a)));
    }
    rows.push_back(std::move(row));
  }
  out << "\nFrom which budget which side has the best, and how good that is there:\n"
      << table(columns, rows, "  ", colour);
  if (steps.size() > kMostSteps) {
    out << "  " << grouped(steps.size() - kMostSteps) << " more steps: --format json\n";
  }
}

std::string welcome(const search::Difference& d) {
  const int direction = welcome_direction(d.key);
  if (direction == 0 || std::isnan(d.a) || std::isnan(d.b)) return "";
  return (d.b < d.a) == (direction > 0) ? "better" : "worse";
}

void write_differences(std::ostream& out, const CompareAnswer& a, Colour colour) {
  const auto& c = a.comparison;
  if (c.differences.empty()) return;
  const auto name = [](const search::Side& side, const char* letter) {
    return side.is_pick ? std::string(letter) : std::string(letter) + " balanced";
  };
  std::vector<std::vector<std::string>> rows;
  for (const search::Difference& d : c.differences) {
    if (repeats_question(d.key)) continue;
    const Shown s = shown_figure(d.key, a.a.job->requirement);
    const std::string from = shown_value(s, d.a);
    const std::string to = shown_value(s, d.b);
    if (from == to) continue;
    rows.push_back({s.label, from, to, shown_change(s, d.a, d.b), s.unit, welcome(d)});
  }
  if (rows.empty()) {
    out << "\nThe two designs do not differ in any figure.\n";
    return;
  }
  out << '\n'
      << table({{"figure", false},
                {a.running != nullptr ? "today" : name(a.a, "A")},
                {name(a.b, "B")},
                {"change"},
                {"", false},
                {"", false}},
               rows, "  ", colour);
}

void write_upgrades(std::ostream& out, const CompareAnswer& a, Colour colour) {
  if (a.running == nullptr || !a.comparison.b_balanced) return;
  const std::string& currency = a.b.job->requirement.currency;
  out << '\n' << bold("What must be bought and changed", colour) << '\n';
  for (const Landmark& landmark : landmarks(a.b)) {
    const search::Upgrade upgrade = search::upgrade_to(*a.running, a.b, landmark.member);
    out << (a.b.is_pick ? "For the pick" : "For B's " + landmark.label + " design") << ": "
        << bill_of(upgrade, currency).text(upgrade.price) << '\n';
    write_upgrade_text(out, upgrade, currency);
  }
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

std::string why_exchanged(const search::Exchanged& e) {
  if (e.slot == "primary") return " (as was asked)";
  if (!e.clashes_with.empty()) {
    std::vector<std::string> parts = e.clashes_with;
    for (std::string& part : parts) std::ranges::replace(part, '_', ' ');
    return " (the old one does not go with the new " + listed(parts) + ": " +
           listed(e.no_longer_fits) + ')';
  }
  if (!e.no_longer_fits.empty()) {
    return " (the old one no longer fits: " + listed(e.no_longer_fits) + ')';
  }
  if (!e.misses.empty()) return " (the old one fits, but misses " + listed(e.misses) + ')';
  return " (the old one would do)";
}

void write_asked_differently(std::ostream& out, const CompareAnswer& a) {
  const std::map<std::string_view, std::string_view> words = {
      {"pull_away", "The speed of the time from rest is"},
      {"ride", "The ride is"},
      {"cruise", "The cruise speeds are"},
      {"climbs", "The climbs are"}};
  for (const search::AskedDifferently& one : a.comparison.asked_differently) {
    const bool several = one.question == "cruise" || one.question == "climbs";
    out << wrapped(std::string(words.at(one.question)) + ' ' + one.a + " for " + name_of_a(a) +
                       " and " + one.b + " for B: " +
                       (several ? "the aims on them" : "the figures of it") + " are not compared.",
                   "");
  }
}

void write_side(std::ostream& out, const char* name, const std::string& label,
                const search::Side& side) {
  out << name << "  " << label;
  if (side.is_pick) {
    out << '\n';
  } else {
    out << ": " << grouped(side.front.members.size()) << " on the front of "
        << grouped(side.front.account.combinations) << " combinations\n";
  }
  for (std::size_t i = 0; i < side.rejected_by.size(); ++i) {
    out << (i == 0 ? "   rejected by: " : "; ") << side.rejected_by[i];
  }
  if (!side.rejected_by.empty()) out << '\n';
}

}  // namespace

void write_upgrade_text(std::ostream& out, const search::Upgrade& u, const std::string& currency) {
  const Bill bill = bill_of(u, currency);
  for (const search::Exchanged& e : u.exchanged) {
    out << wrapped(
        e.slot + ": " + e.from + " -> " + e.to + ", " + bill.text(e.price) + why_exchanged(e),
        "  ");
  }
  for (const search::ExtraChange& extra : u.bought) {
    out << wrapped("extra: " + extra.id + ", " + bill.text(extra.price) + " (" + extra.reason + ')',
                   "  ");
  }
  for (const search::ExtraChange& extra : u.dropped) {
    out << wrapped("no more use: " + extra.id + " (" + extra.reason + ')', "  ");
  }
  if (!u.kept.empty()) out << wrapped("stays: " + listed(u.kept), "  ");
  for (const search::Misfit& misfit : u.misfits) {
    out << wrapped(
        "stays but does not fit the rest: " + misfit.part + " (" + listed(misfit.rules) + ")",
        "  ");
  }
}

void write_compare_text(std::ostream& out, const CompareAnswer& a, Colour colour) {
  write_side(out, name_of_a(a), a.label_a, a.a);
  write_side(out, "B", a.label_b, a.b);
  write_asked_differently(out, a);
  write_fronts(out, a, colour);
  write_standing(out, a);
  write_budget(out, a, colour);
  write_differences(out, a, colour);
  write_upgrades(out, a, colour);
  out << '\n' << wrapped(verdict(a), "") << '\n';
  write_cautions(out, a.b.job->requirement, colour);
}

}  // namespace sprocketry::report
