#include "report/swaps_json.hpp"

namespace sprocketry::report {
namespace {

constexpr double kMillimetre = 1000.0;  // per m

void write_swap(JsonWriter& json, const search::Swap& swap, const spec::Requirement& requirement,
                RuleRows rows) {
  json.begin_object();
  json.member("present", swap.present);
  json.member("sprocket_price",
              static_cast<double>(swap.price) / static_cast<double>(parts::kMoneyUnit));
  write_design_members(json, swap.design, requirement, rows, true);
  json.end_object();
}

void write_beyond(JsonWriter& json, const search::OutOfReach& beyond, const std::string& family) {
  json.begin_object(Layout::kLine);
  json.member("front_sprocket", family);
  json.member("front_teeth", beyond.teeth);
  json.member("centre_distance_mm", beyond.centre_distance * kMillimetre);
  json.key("links_needed");
  if (beyond.links > 0) {
    json.value(beyond.links);
  } else {
    json.null();
  }
  json.end_object();
}

}  // namespace

void write_swaps_json(std::ostream& out, const search::Swaps& s, const spec::Job& job,
                      RuleRows rows) {
  JsonWriter json(out);
  json.begin_object();
  json.key("design");
  json.begin_object();
  write_design_members(json, s.present, job.requirement, rows, true);
  json.end_object();
  json.key("swaps");
  json.begin_list();
  for (const search::Swap& swap : s.swaps) write_swap(json, swap, job.requirement, rows);
  json.end_list();
  json.key("out_of_reach");
  json.begin_list();
  for (const search::OutOfReach& beyond : s.beyond) {
    write_beyond(json, beyond, s.present.parts.front->id);
  }
  json.end_list();
  std::vector<rules::Selection> selections = {s.present.parts};
  for (const search::Swap& swap : s.swaps) selections.push_back(swap.design.parts);
  write_defaults(json, defaults_in_use(job, selections));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
