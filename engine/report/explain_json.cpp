#include "report/design_json.hpp"
#include "report/explain_report.hpp"
#include "report/json_writer.hpp"

namespace sprocketry::report {
namespace {

rules::Selection parts_of(const search::Space& space, const search::Combination& c) {
  return search::selection(space, c.motor, c.controller, c.pack, c.charger, c.chain, c.front,
                           c.rear);
}

// The demand's name, and which of a list it is ("40 km/h"; null where there is one only).
void write_demand(JsonWriter& json, const rules::Check& check,
                  const spec::Requirement& requirement) {
  json.member("demand", check.rule->name);
  json.key("about");
  if (check.rule->about) {
    json.value(check.rule->about(requirement, check.item));
  } else {
    json.null();
  }
}

void write_relaxation(JsonWriter& json, const search::Relaxation& r, const search::Space& space,
                      const spec::Requirement& requirement) {
  json.begin_object();
  write_demand(json, r.demand, requirement);
  json.member("unit", rules::unit_info(r.demand.rule->unit).symbol);
  json.key("limit");
  r.row ? json.value(r.row->limit) : json.null();
  json.key("value");
  r.row ? json.value(r.row->value) : json.null();
  json.key("design");
  r.design ? json.value(rules::design_id(parts_of(space, *r.design))) : json.null();
  json.end_object();
}

void write_conflict(JsonWriter& json, const search::Conflict& conflict, const search::Space& space,
                    const spec::Requirement& requirement) {
  json.begin_list();
  for (std::size_t i = 0; i < conflict.demands.size(); ++i) {
    json.begin_object();
    write_demand(json, conflict.demands[i], requirement);
    json.member("without", rules::design_id(parts_of(space, conflict.without[i])));
    json.end_object();
  }
  json.end_list();
}

void write_counts(JsonWriter& json, const search::Explanation& e) {
  json.member("combinations", e.combinations);
  json.key("unfit");
  json.begin_object();
  for (std::size_t i = 0; i < e.unfit.size(); ++i) {
    if (e.unfit[i] > 0) json.member(rules::rule_table()[i].name, e.unfit[i]);
  }
  json.end_object();
  json.member("compatible", e.compatible);
  json.member("feasible", e.feasible);
  json.key("rules");
  json.begin_list();
  for (const search::RuleCount& count : e.rules) {
    json.begin_object(Layout::kLine);
    json.member("rule", count.rule->name);
    json.member("rejects", count.rejects);
    json.member("alone", count.alone);
    json.end_object();
  }
  json.end_list();
}

}  // namespace

void write_explain_json(std::ostream& out, const search::Explanation& e, const search::Space& space,
                        const spec::Job& job) {
  JsonWriter json(out);
  json.begin_object();
  write_counts(json, e);
  json.key("relaxations");
  json.begin_list();
  std::vector<rules::Selection> selections;
  for (const search::Relaxation& r : e.relaxations) {
    write_relaxation(json, r, space, job.requirement);
    if (r.design) selections.push_back(parts_of(space, *r.design));
  }
  json.end_list();
  json.key("conflict");
  if (e.conflict) {
    write_conflict(json, *e.conflict, space, job.requirement);
    for (const auto& design : e.conflict->without) selections.push_back(parts_of(space, design));
  } else {
    json.null();
  }
  write_defaults(json, defaults_in_use(job, selections));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
