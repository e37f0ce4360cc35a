#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "spec/metrics.hpp"

namespace sprocketry::spec {

// One number of an item of a listed metric, under its name in files and in the output unit that the
// name ends with; NaN when it does not exist.
template <typename Item>
struct ItemFigure {
  std::string_view key;
  double (*value)(const Item&) = nullptr;
};

// The numbers of each cruise, acceleration and climb, in the order in which they are printed. These
// tables feed JSON and CSV.
std::span<const ItemFigure<model::CruiseResult>> cruise_figures();
std::span<const ItemFigure<model::AccelerationResult>> acceleration_figures();
std::span<const ItemFigure<model::ClimbResult>> climb_figures();

// What an item was asked for, in SI: a speed; two speeds; a grade, a speed and a time.
std::vector<double> asked_of(const model::CruiseResult& cruise);
std::vector<double> asked_of(const model::AccelerationResult& acceleration);
std::vector<double> asked_of(const model::ClimbResult& climb);

// Calls visit(name, items, figures) for each listed metric, in the order in which they are printed.
template <typename Visit>
void each_list(const Metrics& metrics, const Visit& visit) {
  const model::Performance& p = metrics.performance;
  visit("cruise", std::span(p.cruise).first(metrics.listed_cruises), cruise_figures());
  visit("accelerations", std::span(p.accelerations), acceleration_figures());
  visit("climbs", std::span(p.climbs), climb_figures());
}

}  // namespace sprocketry::spec
