#include "report/pack_days.hpp"

#include <array>
#include <span>

#include "model/constants.hpp"
#include "report/display.hpp"

namespace sprocketry::report {
namespace {

constexpr std::array kMetrics = {"range", "pull_away", "top_speed", "top_speed_low"};
// A page is too narrow for the last of them.
constexpr std::size_t kInTable = 3;

// The demands that a design misses, "range; pull_away"; "all hold" when none.
std::string missed(const search::Design& design) {
  std::string text;
  for (const std::string_view name : design.rejected_by()) {
    text += (text.empty() ? "" : "; ") + std::string(name);
  }
  return text.empty() ? "all hold" : text;
}

}  // namespace

void write_pack_days(JsonWriter& json, const search::PackDays& days) {
  json.key("pack_days");
  json.begin_list();
  for (const search::PackDay& day : days) {
    json.begin_object(Layout::kLine);
    json.member("day", day.name);
    json.member("temperature_c", day.state.temperature - model::kZeroCelsius);
    json.member("health_percent", 100 * day.state.health);
    for (const char* name : kMetrics) {
      const spec::MetricInfo& info = *spec::find_metric(name);
      json.member(info.json_key, info.value(day.design.metrics));
    }
    json.member("peak_power_kw", day.design.peak_power / 1000);
    json.key("rejected_by");
    json.begin_list();
    for (const std::string_view name : day.design.rejected_by()) json.value(name);
    json.end_list();
    json.end_object();
  }
  json.end_list();
}

PackDayTable pack_day_table(const search::PackDays& days, const spec::Job& job) {
  PackDayTable t;
  t.columns = {{"pack", false}};
  for (const char* name : std::span(kMetrics).first(kInTable)) {
    const Shown as = shown(*spec::find_metric(name), job.requirement);
    t.columns.push_back({as.label, true, as.unit});
  }
  t.columns.push_back({"peak power", true, "kW"});
  t.columns.push_back({"rules and demands", false});
  for (const search::PackDay& day : days) {
    std::vector<std::string> row = {std::string(day.name) + ": " +
                                    rounded(day.state.temperature - model::kZeroCelsius, 0) +
                                    " degC, " + rounded(100 * day.state.health, 0) + " %"};
    for (const char* name : std::span(kMetrics).first(kInTable)) {
      const spec::MetricInfo& info = *spec::find_metric(name);
      row.push_back(shown_value(shown(info, job.requirement), info.value(day.design.metrics)));
    }
    row.push_back(rounded(day.design.peak_power / 1000, 1));
    row.push_back(missed(day.design));
    t.rows.push_back(std::move(row));
  }
  return t;
}

std::string pack_state_text(const model::CellState& state, const std::string& before) {
  std::string text;
  if (state.temperature != model::kRatedTemperature) {
    text += "at " + rounded(state.temperature - model::kZeroCelsius, 0) + " degC";
  }
  if (state.health != 1.0) {
    text += std::string(text.empty() ? "" : " and ") + "at " + rounded(100 * state.health, 0) +
            " % of their capacity";
  }
  return text.empty() ? "" : before + text;
}

std::string pack_day_note() {
  return "Capacity is what age has left; cold takes its part besides, as stated or usual for the "
         "cell, "
         "and both raise the resistance (at 80 % of its capacity half as much again; common "
         "practice, no source).";
}

void write_pack_days_text(std::ostream& out, const search::PackDays& days, const spec::Job& job,
                          Colour colour) {
  const PackDayTable t = pack_day_table(days, job);
  out << '\n' << table(t.columns, t.rows, "  ", colour) << wrapped(pack_day_note(), "  ");
}

}  // namespace sprocketry::report
