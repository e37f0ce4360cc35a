#include <algorithm>
#include <cmath>
#include <span>
#include <sstream>

#include "parts/voltage_class.hpp"
#include "report/cautions.hpp"
#include "report/display.hpp"
#include "report/explain_report.hpp"
#include "report/no_option_text.hpp"

namespace sprocketry::report {
namespace {

std::string id_of(const search::Space& space, const search::Combination& c) {
  return rules::design_id(search::selection(space, c));
}

std::string name_of(const rules::Check& check, const spec::Requirement& requirement) {
  std::string name(check.rule->name);
  if (check.rule->about) name += " (" + check.rule->about(requirement, check.item) + ")";
  return name;
}

void write_unfit(std::ostream& out, const search::Explanation& e, Colour colour) {
  std::vector<std::vector<std::string>> rows;
  for (const search::RuleCount& count : e.fit_rules) {
    if (count.rejects == 0) continue;
    const auto first = static_cast<std::size_t>(count.rule - rules::rule_table().data());
    rows.push_back({std::string(count.rule->name), grouped(count.rejects), grouped(count.alone),
                    grouped(e.unfit[first])});
  }
  if (rows.empty()) return;
  out << "\nParts that do not fit each other: how many combinations each rule rejects, how many "
         "it\n"
         "alone rejects, and how many are counted under it as the first rule that they break:\n"
      << table({{"rule", false}, {"rejects"}, {"alone"}, {"first"}}, rows, "  ", colour);
}

void write_rules(std::ostream& out, const search::Explanation& e, Colour colour) {
  std::vector<std::vector<std::string>> rows;
  for (const search::RuleCount& count : e.rules) {
    if (count.rejects == 0) continue;
    rows.push_back({std::string(count.rule->name), grouped(count.rejects), grouped(count.alone)});
  }
  if (rows.empty()) return;
  out << "\nOf those that fit, how many each rule rejects, and how many it alone rejects:\n"
      << table({{"rule", false}, {"rejects"}, {"alone"}}, rows, "  ", colour);
}

// What fails only because one of the aims does not exist for it can be had by aiming otherwise: no
// demand has to give way.
void write_missing_aims(std::ostream& out, const search::Explanation& e,
                        const spec::Requirement& requirement) {
  const auto count = std::ranges::find(e.rules, "objective exists",
                                       [](const search::RuleCount& c) { return c.rule->name; });
  if (e.feasible > 0 || count == e.rules.end() || count->alone == 0) return;
  const auto& aims = requirement.objectives;
  const bool timed = std::ranges::find(aims, "pull_away") != aims.end();
  out << wrapped(
      grouped(count->alone) + (count->alone == 1 ? " combination fails" : " combinations fail") +
          " only because an aim does not exist: " +
          (timed
               ? "a time from rest to " + rules::speed_text(requirement, requirement.pull_away_to) +
                     " is not to be had of a bike that never reaches it. Write a lower "
                     "`must.pull_away.to`, or other `objectives`."
               : "write other `objectives`."),
      "  ");
}

std::string volts(double voltage) {
  const std::string text = rounded(voltage, 1);
  return text.ends_with(".0") ? text.substr(0, text.size() - 2) : text;
}

// "no 48 V pack reaches 80 km/h (must top_speed): the best is 71.3 km/h" for a row that does not
// hold; `who` is "no 48 V pack".
std::string shortfall(const std::string& who, const rules::Check& demand, const rules::Row& row,
                      const spec::Requirement& requirement) {
  const rules::Unit unit = demand.rule->unit;
  const std::string name = " (" + name_of(demand, requirement) + "): ";
  if (unit == rules::Unit::kNewton) {
    return who + " has the force" + name + "the best lacks " +
           beside(-row.value, 0, unit, requirement);
  }
  const std::string verb = row.value < row.limit ? " reaches " : " keeps to ";
  return who + verb + beside(row.limit, row.value, unit, requirement) + name + "the best is " +
         giving_way(row.value, row.limit, unit, requirement);
}

using Rows = std::span<const search::VoltageReach>;

// The class of the trade that a rider takes a pack for ("a 48 V pack"): those that the requirement
// chooses among, or the usual ones.
std::optional<double> class_of(const search::VoltageReach& v,
                               const spec::Requirement& requirement) {
  const auto& chosen = requirement.choose.pack.voltage_classes;
  return chosen ? parts::voltage_class(*chosen, v.voltage)
                : parts::voltage_class(parts::trade_voltage_classes(), v.voltage);
}

// "no 48 V pack" where all packs of the class fall short; else by their nominal voltages, because a
// 51.2 V pack is a 48 V pack too.
std::string packs_between(Rows all, std::size_t begin, std::size_t end,
                          const spec::Requirement& requirement) {
  const auto low = class_of(all[begin], requirement);
  const auto high = class_of(all[end - 1], requirement);
  const bool cut = (begin > 0 && class_of(all[begin - 1], requirement) == low) ||
                   (end < all.size() && class_of(all[end], requirement) == high);
  if (low && high && !cut) {
    return *low == *high ? "no " + volts(*low) + " V pack"
                         : "no pack of " + volts(*low) + " to " + volts(*high) + " V";
  }
  const std::string from = volts(all[begin].voltage);
  const std::string to = volts(all[end - 1].voltage);
  return "no pack of " + (from == to ? from : from + " to " + to) + " V nominal";
}

// One sentence on neighbouring voltages that all fall short.
void write_shortfall(std::ostream& out, const std::string& who, const rules::Check& demand,
                     Rows voltages, const search::Space& space,
                     const spec::Requirement& requirement) {
  const auto best = std::ranges::max_element(
      voltages, {}, [](const search::VoltageReach& v) { return v.row.margin; });
  out << wrapped(shortfall(who, demand, best->row, requirement), "  ") << "    with "
      << id_of(space, best->design) << '\n';
}

void write_reach_of(std::ostream& out, const search::Reach& reach, const search::Space& space,
                    const spec::Requirement& requirement) {
  const Rows all = reach.voltages;
  const auto short_of = [](const search::VoltageReach& v) { return !v.row.holds; };
  if (std::ranges::all_of(all, short_of)) {
    write_shortfall(out, "nothing", reach.demand, all, space, requirement);
    return;
  }
  for (std::size_t i = 0; i < all.size();) {
    std::size_t end = i;
    while (end < all.size() && short_of(all[end])) ++end;
    if (end > i) {
      write_shortfall(out, packs_between(all, i, end, requirement), reach.demand,
                      all.subspan(i, end - i), space, requirement);
    }
    i = std::max(end, i + 1);
  }
}

// What the voltage alone rules out.
void write_reach(std::ostream& out, const search::Explanation& e, const search::Space& space,
                 const spec::Requirement& requirement) {
  std::ostringstream text;
  for (const search::Reach& reach : e.reach) {
    if (!reach.voltages.empty()) write_reach_of(text, reach, space, requirement);
  }
  if (text.str().empty()) return;
  out << "\nWhat is out of reach by a pack's nominal voltage, every rule held and the other "
         "demands\n"
         "left aside:\n"
      << text.str();
}

// What a demand would have to be written as. A climb is judged by its force but written as a grade.
std::string demanded_text(const rules::Check& demand, double value, double limit,
                          std::optional<double> grade, const spec::Requirement& requirement) {
  if (!grade) return giving_way(value, limit, demand.rule->unit, requirement);
  return rounded(std::floor(1000.0 * *grade) / 10.0, 1) + " %";
}

std::string limit_text(const rules::Check& demand, double limit, double value,
                       std::optional<double> grade, const spec::Requirement& requirement) {
  if (!grade) return beside(limit, value, demand.rule->unit, requirement);
  return rounded(100.0 * requirement.must.climbs[demand.item].grade, 1) + " %";
}

// "must range, limit 60 km. The first gain comes at 59.3 km: price 2850 EUR. ..."
std::string binding_text(const search::Binding& b, const Figures& aim,
                         const spec::Requirement& requirement) {
  const rules::Unit unit = b.demand.rule->unit;
  const auto demanded = [&](const search::Gain& gain) {
    return demanded_text(b.demand, gain.demanded, b.limit, gain.grade, requirement);
  };
  std::string text = name_of(b.demand, requirement) + ", limit " +
                     limit_text(b.demand, b.limit, b.first.demanded, b.first.grade, requirement) +
                     ". The first gain comes at " + demanded(b.first) + ": " +
                     aim.text(b.first.reached) + ". Giving way by " +
                     beside(b.unit, 0, unit, requirement) + " buys ";
  text += b.once ? aim.text(b.once->reached) : "nothing";
  if (b.dropped.reached == b.first.reached) {
    return text + (b.once ? "; more buys no more." : "; beyond the first gain there is no more.");
  }
  return text + "; without the demand, at " + demanded(b.dropped) + ": " +
         aim.text(b.dropped.reached) + ".";
}

// All figures of an aim that its end names.
Figures figures_of(const search::End& end, const Shown& aim) {
  Figures figures(aim);
  figures.add(end.value);
  for (const search::Binding& b : end.binding) {
    figures.add(b.first.reached);
    if (b.once) figures.add(b.once->reached);
    figures.add(b.dropped.reached);
  }
  return figures;
}

void write_ends(std::ostream& out, const search::Explanation& e, const search::Space& space,
                const spec::Requirement& requirement) {
  if (e.ends.empty()) return;
  out << "\nThe best of each aim, and which demands hold it back (the others and every rule "
         "held):\n";
  for (const search::End& end : e.ends) {
    const Shown aim = shown(*end.aim, requirement);
    const Figures figures = figures_of(end, aim);
    out << "  " << aim.label << ' ' << figures.text(end.value) << "\n    with "
        << id_of(space, end.design) << '\n';
    if (end.binding.empty()) {
      out << "    no demand alone: the parts and the rules hold it, or several demands at once\n";
    }
    for (const search::Binding& b : end.binding) {
      out << wrapped(binding_text(b, figures, requirement), "    ");
    }
  }
}

void write_relaxations(std::ostream& out, const search::Explanation& e, const search::Space& space,
                       const spec::Requirement& requirement) {
  if (e.relaxations.empty()) return;
  out << "\nIf one demand gives way and all else holds, the least that lets a design through:\n";
  std::string helpless;
  for (const search::Relaxation& r : e.relaxations) {
    if (r.row) {
      out << "  " << name_of(r.demand, requirement) << ": "
          << demanded_text(r.demand, r.row->value, r.row->limit, r.grade, requirement)
          << " instead of "
          << limit_text(r.demand, r.row->limit, r.row->value, r.grade, requirement) << "\n    with "
          << id_of(space, *r.design) << '\n';
    } else {
      helpless += (helpless.empty() ? "" : ", ") + name_of(r.demand, requirement);
    }
  }
  if (!helpless.empty()) out << wrapped("no value is enough of " + helpless, "  ");
}

void write_conflict(std::ostream& out, const search::Explanation& e, const search::Space& space,
                    const spec::Requirement& requirement) {
  if (!e.conflict) return;
  if (e.conflict->demands.empty()) {
    out << "\nNo combination passes the rules, whatever the demands.\n";
    return;
  }
  out << "\nA smallest set of demands that no design holds together (no smaller set conflicts);\n"
         "without one of them, this design passes the rules and holds the rest of the set:\n";
  for (std::size_t i = 0; i < e.conflict->demands.size(); ++i) {
    out << "  " << name_of(e.conflict->demands[i], requirement) << '\n'
        << "    without it " << id_of(space, e.conflict->without[i]) << '\n';
  }
}

}  // namespace

void write_explain_text(std::ostream& out, const search::Explanation& e, const search::Space& space,
                        const spec::Job& job, Colour colour) {
  const std::string title = job.requirement.title.empty() ? "" : job.requirement.title + ": ";
  out << bold(title + (e.feasible > 0 ? grouped(e.feasible) + " combinations meet every demand"
                                      : "no combination meets every demand"),
              colour)
      << '\n';
  // What was judged says nothing about rules and demands when nothing was.
  if (e.combinations == 0) {
    write_no_option(out, job, space);
    return;
  }
  out << grouped(e.combinations) << " combinations, of which " << grouped(e.compatible)
      << " fit together; every one of these was judged by every rule\n";
  write_unfit(out, e, colour);
  write_rules(out, e, colour);
  write_missing_aims(out, e, job.requirement);
  write_reach(out, e, space, job.requirement);
  write_ends(out, e, space, job.requirement);
  write_relaxations(out, e, space, job.requirement);
  write_conflict(out, e, space, job.requirement);
  out << '\n';
  write_cautions(out, job.requirement, colour);
}

}  // namespace sprocketry::report
