#include "spec/metric_lists.hpp"

#include <array>

#include "model/constants.hpp"
#include "units/units.hpp"

namespace sprocketry::spec {
namespace {

using model::AccelerationResult;
using model::ClimbResult;
using model::CruiseResult;

// A speed that was asked for, as it was written: no rounding turns 65 km/h into 65.00000000000001.
double km_h(double speed) { return units::in_unit(speed, units::Dimension::kSpeed, "km/h"); }

constexpr std::array kCruise = {
    ItemFigure<CruiseResult>{"speed_km_h", [](const CruiseResult& c) { return km_h(c.speed); }},
    ItemFigure<CruiseResult>{"battery_current_a",
                             [](const CruiseResult& c) { return c.battery_current; }},
    ItemFigure<CruiseResult>{"motor_current_a",
                             [](const CruiseResult& c) { return c.motor_current; }},
    ItemFigure<CruiseResult>{
        "motor_rpm", [](const CruiseResult& c) { return c.motor_speed * 30.0 / model::kPi; }},
    ItemFigure<CruiseResult>{"range_km", [](const CruiseResult& c) { return c.range / 1000.0; }},
};

constexpr std::array kAcceleration = {
    ItemFigure<AccelerationResult>{"from_km_h",
                                   [](const AccelerationResult& a) { return km_h(a.from); }},
    ItemFigure<AccelerationResult>{"to_km_h",
                                   [](const AccelerationResult& a) { return km_h(a.to); }},
    ItemFigure<AccelerationResult>{"time_s", [](const AccelerationResult& a) { return a.time; }},
};

constexpr std::array kClimb = {
    ItemFigure<ClimbResult>{"grade_percent", [](const ClimbResult& c) { return c.grade * 100.0; }},
    ItemFigure<ClimbResult>{"speed_km_h", [](const ClimbResult& c) { return km_h(c.speed); }},
    ItemFigure<ClimbResult>{"force_margin_n", [](const ClimbResult& c) { return c.force_margin; }},
    ItemFigure<ClimbResult>{"force_margin_low_n",
                            [](const ClimbResult& c) { return c.force_margin_low; }},
    ItemFigure<ClimbResult>{"winding_c",
                            [](const ClimbResult& c) { return c.winding - model::kZeroCelsius; }},
};

}  // namespace

std::span<const ItemFigure<CruiseResult>> cruise_figures() { return kCruise; }
std::span<const ItemFigure<AccelerationResult>> acceleration_figures() { return kAcceleration; }
std::span<const ItemFigure<ClimbResult>> climb_figures() { return kClimb; }

std::vector<double> asked_of(const CruiseResult& cruise) { return {cruise.speed}; }
std::vector<double> asked_of(const AccelerationResult& acceleration) {
  return {acceleration.from, acceleration.to};
}
std::vector<double> asked_of(const ClimbResult& climb) {
  return {climb.grade, climb.speed, climb.duration};
}

}  // namespace sprocketry::spec
