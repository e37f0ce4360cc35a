#include "report/front_table.hpp"

#include <algorithm>
#include <array>

#include "parts/values.hpp"
#include "report/display.hpp"
#include "report/front_sample.hpp"

namespace sprocketry::report {
namespace {

constexpr std::array<std::string_view, 7> kPartNames = {
    "motor", "controller", "pack", "charger", "chain", "front sprocket", "rear sprocket"};

std::array<std::string, kPartNames.size()> part_ids(const rules::Selection& s) {
  return {s.motor->id, s.controller->id, s.pack->id, s.charger ? s.charger->id : rules::kNoCharger,
          s.chain->id, s.front->id,      s.rear->id};
}

// The objectives, then what a rider asks next.
std::vector<const spec::MetricInfo*> shown_metrics(const Result& r) {
  std::vector<const spec::MetricInfo*> metrics = r.setup.objectives;
  for (const char* name : {"top_speed", "sustained_speed"}) {
    const spec::MetricInfo* info = spec::find_metric(name);
    if (std::ranges::find(metrics, info) == metrics.end()) metrics.push_back(info);
  }
  return metrics;
}

// "14/42 = 3.00", with a primary of 1.8 "1.8 x 14/42 = 5.40".
std::string gearing_text(const search::Design& d, const spec::Bike& bike) {
  const std::string primary = bike.primary ? parts::number_text(bike.primary->ratio) + " x " : "";
  return primary + std::to_string(d.parts.front_teeth) + "/" + std::to_string(d.parts.rear_teeth) +
         " = " + rounded(d.chain.total_reduction, 2);
}

// Moves a column whose rows all say the same out of the table.
void take_out_shared(FrontTable& table, std::size_t column) {
  const std::string& first = table.rows.front()[column];
  const bool same =
      std::ranges::all_of(table.rows, [&](const auto& row) { return row[column] == first; });
  if (!same || table.rows.size() < 2) return;
  table.shared = table.columns[column].heading + ' ' + first + (table.shared.empty() ? "" : ", ") +
                 table.shared;
  const auto at = static_cast<std::ptrdiff_t>(column);
  table.columns.erase(table.columns.begin() + at);
  for (auto& row : table.rows) row.erase(row.begin() + at);
}

}  // namespace

FrontTable front_table(const Result& r, const std::vector<std::size_t>& members) {
  const auto metrics = shown_metrics(r);
  std::vector<Shown> shown_as;
  FrontTable table;
  table.columns.push_back({"#"});
  for (const spec::MetricInfo* info : metrics) {
    shown_as.push_back(shown(*info, r.job.requirement));
    table.columns.push_back({shown_as.back().label, true, shown_as.back().unit});
  }
  table.columns.push_back({"gearing", false});
  for (const std::string_view name : kPartNames)
    table.columns.push_back({std::string(name), false});
  for (const std::size_t i : members) {
    const search::Design d = search::evaluate_design(r.setup, r.space, r.front.members[i]);
    auto& row = table.rows.emplace_back();
    row.push_back(std::to_string(i + 1));
    for (std::size_t k = 0; k < metrics.size(); ++k) {
      const bool is_confidence = metrics[k] == &spec::confidence_metric();
      row.push_back(shown_value(shown_as[k],
                                is_confidence ? confidence(r, i) : metrics[k]->value(d.metrics)));
    }
    row.push_back(gearing_text(d, r.job.requirement.bike));
    std::ranges::move(part_ids(d.parts), std::back_inserter(row));
  }
  const std::size_t last = table.columns.size();
  const std::vector<std::string> words = standing_out(r, members);
  for (std::size_t k = 1; k <= kPartNames.size(); ++k) take_out_shared(table, last - k);
  table.columns.push_back({"stands out", false});
  for (std::size_t i = 0; i < members.size(); ++i) table.rows[i].push_back(words[i]);
  return table;
}

}  // namespace sprocketry::report
