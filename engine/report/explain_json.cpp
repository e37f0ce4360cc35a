#include "report/design_json.hpp"
#include "report/explain_report.hpp"
#include "report/json_writer.hpp"

namespace sprocketry::report {
namespace {

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
  if (r.grade) json.member("grade_percent", 100.0 * *r.grade);
  json.key("design");
  r.design ? json.value(rules::design_id(search::selection(space, *r.design))) : json.null();
  json.end_object();
}

void write_conflict(JsonWriter& json, const search::Conflict& conflict, const search::Space& space,
                    const spec::Requirement& requirement) {
  json.begin_list();
  for (std::size_t i = 0; i < conflict.demands.size(); ++i) {
    json.begin_object();
    write_demand(json, conflict.demands[i], requirement);
    json.member("without", rules::design_id(search::selection(space, conflict.without[i])));
    json.end_object();
  }
  json.end_list();
}

void write_rule_counts(JsonWriter& json, const std::vector<search::RuleCount>& counts) {
  json.begin_list();
  for (const search::RuleCount& count : counts) {
    json.begin_object(Layout::kLine);
    json.member("rule", count.rule->name);
    json.member("rejects", count.rejects);
    json.member("alone", count.alone);
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
  json.key("fit_rules");
  write_rule_counts(json, e.fit_rules);
  json.member("compatible", e.compatible);
  json.member("feasible", e.feasible);
  json.key("rules");
  write_rule_counts(json, e.rules);
}

void write_reach(JsonWriter& json, const search::Reach& reach, const search::Space& space,
                 const spec::Requirement& requirement) {
  json.begin_object();
  write_demand(json, reach.demand, requirement);
  json.member("unit", rules::unit_info(reach.demand.rule->unit).symbol);
  json.key("voltages");
  json.begin_list();
  for (const search::VoltageReach& v : reach.voltages) {
    json.begin_object(Layout::kLine);
    json.member("nominal_voltage_v", v.voltage);
    json.member("value", v.row.value);
    json.member("limit", v.row.limit);
    json.member("holds", v.row.holds);
    json.member("design", rules::design_id(search::selection(space, v.design)));
    json.end_object();
  }
  json.end_list();
  json.end_object();
}

void write_gain(JsonWriter& json, std::string_view name, const search::Gain& gain,
                const search::Space& space) {
  json.key(name);
  json.begin_object(Layout::kLine);
  json.member("demanded", gain.demanded);
  json.member("reached", gain.reached);
  if (gain.grade) json.member("grade_percent", 100.0 * *gain.grade);
  json.member("design", rules::design_id(search::selection(space, gain.design)));
  json.end_object();
}

void write_binding(JsonWriter& json, const search::Binding& b, const search::Space& space,
                   const spec::Requirement& requirement) {
  json.begin_object();
  write_demand(json, b.demand, requirement);
  json.member("unit", rules::unit_info(b.demand.rule->unit).symbol);
  json.member("limit", b.limit);
  json.member("one_unit", b.unit);
  write_gain(json, "first", b.first, space);
  if (b.once) {
    write_gain(json, "one_unit_buys", *b.once, space);
  } else {
    json.key("one_unit_buys");
    json.null();
  }
  write_gain(json, "dropped", b.dropped, space);
  json.end_object();
}

void write_end(JsonWriter& json, const search::End& end, const search::Space& space,
               const spec::Requirement& requirement) {
  json.begin_object();
  json.member("objective", end.aim->name);
  json.member("value", end.value);
  json.member("design", rules::design_id(search::selection(space, end.design)));
  json.key("held_by");
  json.begin_list();
  for (const search::Binding& b : end.binding) write_binding(json, b, space, requirement);
  json.end_list();
  json.end_object();
}

}  // namespace

void write_explain_json(std::ostream& out, const search::Explanation& e, const search::Space& space,
                        const spec::Job& job) {
  JsonWriter json(out);
  json.begin_object();
  write_counts(json, e);
  json.key("reach");
  json.begin_list();
  for (const search::Reach& reach : e.reach) write_reach(json, reach, space, job.requirement);
  json.end_list();
  json.key("ends");
  json.begin_list();
  for (const search::End& end : e.ends) write_end(json, end, space, job.requirement);
  json.end_list();
  json.key("relaxations");
  json.begin_list();
  std::vector<rules::Selection> selections;
  for (const search::Relaxation& r : e.relaxations) {
    write_relaxation(json, r, space, job.requirement);
    if (r.design) selections.push_back(search::selection(space, *r.design));
  }
  json.end_list();
  json.key("conflict");
  if (e.conflict) {
    write_conflict(json, *e.conflict, space, job.requirement);
    for (const auto& design : e.conflict->without)
      selections.push_back(search::selection(space, design));
  } else {
    json.null();
  }
  for (const search::Reach& reach : e.reach) {
    for (const auto& v : reach.voltages) selections.push_back(search::selection(space, v.design));
  }
  for (const search::End& end : e.ends) {
    selections.push_back(search::selection(space, end.design));
    for (const search::Binding& b : end.binding) {
      selections.push_back(search::selection(space, b.first.design));
      selections.push_back(search::selection(space, b.dropped.design));
      if (b.once) selections.push_back(search::selection(space, b.once->design));
    }
  }
  write_defaults(json, defaults_in_use(job, selections));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
