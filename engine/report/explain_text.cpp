#include "report/cautions.hpp"
#include "report/display.hpp"
#include "report/explain_report.hpp"

namespace sprocketry::report {
namespace {

std::string id_of(const search::Space& space, const search::Combination& c) {
  return rules::design_id(
      search::selection(space, c.motor, c.controller, c.pack, c.charger, c.chain, c.front, c.rear));
}

std::string name_of(const rules::Check& check, const spec::Requirement& requirement) {
  std::string name(check.rule->name);
  if (check.rule->about) name += " (" + check.rule->about(requirement, check.item) + ")";
  return name;
}

void write_unfit(std::ostream& out, const search::Explanation& e, Colour colour) {
  std::vector<std::vector<std::string>> rows;
  const auto table_of_rules = rules::rule_table();
  for (std::size_t i = 0; i < e.unfit.size(); ++i) {
    if (e.unfit[i] > 0) rows.push_back({std::string(table_of_rules[i].name), grouped(e.unfit[i])});
  }
  if (rows.empty()) return;
  out << "\nParts that do not fit each other, each combination under the first rule it breaks:\n"
      << table({{"rule", false}, {"combinations"}}, rows, "  ", colour);
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

void write_relaxations(std::ostream& out, const search::Explanation& e, const search::Space& space,
                       const spec::Requirement& requirement) {
  if (e.relaxations.empty()) return;
  out << "\nIf one demand gives way and all else holds, the least that lets a design through:\n";
  std::string helpless;
  for (const search::Relaxation& r : e.relaxations) {
    if (r.row) {
      out << "  " << row_text(*r.row, requirement) << '\n'
          << "    with " << id_of(space, *r.design) << '\n';
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
      << '\n'
      << grouped(e.combinations) << " combinations, of which " << grouped(e.compatible)
      << " fit together; every one of these was judged by every rule\n";
  write_unfit(out, e, colour);
  write_rules(out, e, colour);
  write_relaxations(out, e, space, job.requirement);
  write_conflict(out, e, space, job.requirement);
  out << '\n';
  write_cautions(out, colour);
}

}  // namespace sprocketry::report
