#pragma once

#include <span>
#include <string>
#include <string_view>

#include "model/performance.hpp"
#include "parts/catalogue.hpp"

namespace sprocketry::spec {

// Everything that is known about a combination: what it does, weighs and costs.
struct Metrics {
  model::Performance performance;
  parts::Money price = 0;
  double mass = 0;                    // kg, ready to ride without rider and load
  double charge_time = model::kNone;  // s
  std::size_t listed_cruises = 0;     // the first so many of performance.cruise answer `cruise`,
                                      // the rest answer demands at other speeds
};

// Portions in which metrics are computed (see model/evaluate.hpp); a rule or an objective says
// which it reads. A portion's bit.
namespace figures {
inline constexpr unsigned kTopSpeed = 1, kRide = 2, kCruise = 4, kSustained = 8, kPullAway = 16,
                          kRange = 32, kCruiseRange = 64, kStartGrade = 128, kPeakCurrent = 256,
                          kRest = 512, kTopSpeedFull = 1024;
inline constexpr unsigned kAll = 2047;
}  // namespace figures

enum class Better { kLower, kHigher };

// A metric that is one number. The table feeds objectives, JSON, CSV, text, help and schemas.
struct MetricInfo {
  std::string_view name;         // as an objective: "pull_away"
  std::string_view json_key;     // "pull_away_s"; empty: not printed among the metrics
  std::string_view unit;         // of the output value: "s"; "" for the currency
  std::string_view label;        // as riders say it: "0-{pull_away_to}"
  std::string_view explanation;  // one sentence for --help
  Better better = Better::kLower;
  unsigned reads = 0;                         // figures
  bool objective = false;                     // may be named in `objectives`
  double (*value)(const Metrics&) = nullptr;  // in the output unit; NaN when it does not exist
};

// All scalar metrics, in the order in which they are printed.
std::span<const MetricInfo> metric_table();

// A metric's value in its output unit, negated where more is better: less is always better. NaN
// when it does not exist.
double cost_of(const MetricInfo& metric, const Metrics& metrics);

// What `objectives` may name besides: the share of samples in which every rule and demand holds, in
// percent. It is no figure of one evaluation: its `value` is NaN.
const MetricInfo& confidence_metric();

// The metric of that name, or nullptr.
const MetricInfo* find_metric(std::string_view name);

}  // namespace sprocketry::spec
