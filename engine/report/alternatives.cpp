#include "report/alternatives.hpp"

#include "report/cautions.hpp"
#include "report/display.hpp"

namespace sprocketry::report {
namespace {

using search::Alternative;
using search::Without;

std::string values_text(const search::Design& d, const search::Setup& setup, const spec::Job& job) {
  std::string text;
  for (const spec::MetricInfo* info : setup.objectives) {
    const Shown as = shown(*info, job.requirement);
    text += (text.empty() ? "" : ", ") + as.label + ' ' + shown_value(as, info->value(d.metrics)) +
            ' ' + as.unit;
  }
  return text;
}

std::string loss_text(const Alternative& a, const search::Setup& setup, const spec::Job& job) {
  if (!(a.loss > 0)) return "gives nothing away";
  return "gives away " + rounded(100 * a.loss, 1) + " % in " +
         shown(*setup.objectives[a.worst], job.requirement).label;
}

void write_design_head(JsonWriter& json, const search::Design& design, const spec::Job& job,
                       RuleRows rows) {
  json.key("design");
  json.begin_object();
  write_design_members(json, design, job.requirement, rows, true);
  json.end_object();
}

}  // namespace

void write_alternatives_text(std::ostream& out, const search::Design& design,
                             const std::vector<Without>& list, const search::Setup& setup,
                             const spec::Job& job, Colour colour) {
  out << bold(rules::design_id(design.parts), colour) << '\n'
      << "  " << values_text(design, setup, job) << "\n\n"
      << "The nearest designs that do without one of its parts, those first that give away least\n"
         "in the aim that suffers most. All meet every rule and demand.\n";
  for (const Without& without : list) {
    out << '\n'
        << bold("without the " + std::string(without.slot) + ' ' + without.id, colour) << '\n';
    if (without.nearest.empty()) out << "  nothing meets every rule and demand without it\n";
    for (const Alternative& a : without.nearest) {
      out << "  " << rules::design_id(a.design.parts) << "\n    "
          << values_text(a.design, setup, job) << ": " << loss_text(a, setup, job) << '\n';
    }
  }
  out << '\n';
  write_cautions(out, job.requirement, colour);
}

void write_alternatives_json(std::ostream& out, const search::Design& design,
                             const std::vector<Without>& list, const search::Setup& setup,
                             const spec::Job& job, RuleRows rows) {
  JsonWriter json(out);
  json.begin_object();
  write_design_head(json, design, job, rows);
  std::vector<rules::Selection> selections = {design.parts};
  json.key("without");
  json.begin_list();
  for (const Without& without : list) {
    json.begin_object();
    json.member("slot", without.slot);
    json.member("id", without.id);
    json.member("front", without.front);
    json.key("nearest");
    json.begin_list();
    for (const Alternative& a : without.nearest) {
      selections.push_back(a.design.parts);
      json.begin_object();
      json.member("loss_percent", 100 * a.loss);
      json.key("worst");
      if (a.loss > 0) {
        json.value(setup.objectives[a.worst]->name);
      } else {
        json.null();
      }
      write_design_head(json, a.design, job, rows);
      json.end_object();
    }
    json.end_list();
    json.end_object();
  }
  json.end_list();
  write_defaults(json, defaults_in_use(job, selections));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
