#include "model/heat.hpp"

#include <cmath>

#include "model/constants.hpp"
#include "model/performance.hpp"

namespace sprocketry::model {
namespace {

// Copper loss as offset + slope T_w, W and W/K.
struct CopperLoss {
  double offset, slope;

  CopperLoss(const Motor& motor, const HeatLoad& load) {
    const double cold = load.mean_square_current * motor.resistance;
    slope = kCopperCoefficient * cold;
    offset = cold - slope * kWindingReference;
  }
};

// (e^(rate t) - 1)/rate, t for rate 0.
double growth(double rate, double time) {
  return std::abs(rate * time) < 1e-300 ? time : std::expm1(rate * time) / rate;
}

}  // namespace

MotorTemperature settled_at(const Motor& motor, double winding, double air_temperature) {
  const ThermalNetwork& n = motor.thermal;
  const double share = n.body_to_air / (n.winding_to_body + n.body_to_air);
  return {winding, air_temperature + share * (winding - air_temperature)};
}

MotorTemperature steady_temperature(const Motor& motor, const HeatLoad& load,
                                    double air_temperature) {
  const ThermalNetwork& n = motor.thermal;
  const CopperLoss copper(motor, load);
  const double resistance = n.winding_to_body + n.body_to_air;
  const double gain = copper.slope * resistance;
  if (!(gain < 1.0)) return {kNone, kNone};
  const double winding =
      (air_temperature + n.body_to_air * load.friction_power + resistance * copper.offset) /
      (1.0 - gain);
  const double copper_power = copper.offset + copper.slope * winding;
  return {winding, air_temperature + n.body_to_air * (load.friction_power + copper_power)};
}

MotorTemperature temperature_after(const Motor& motor, const HeatLoad& load, double air_temperature,
                                   const MotorTemperature& start, double duration) {
  const ThermalNetwork& n = motor.thermal;
  const CopperLoss copper(motor, load);
  // d/dt (w, b) = [[a, p], [q, d]] (w, b) + (u, v), temperatures over air.
  const double p = 1.0 / (n.winding_to_body * n.winding_capacity);
  const double q = 1.0 / (n.winding_to_body * n.body_capacity);
  const double a = copper.slope / n.winding_capacity - p;
  const double d = -q - 1.0 / (n.body_to_air * n.body_capacity);
  const double u = (copper.offset + copper.slope * air_temperature) / n.winding_capacity;
  const double v = load.friction_power / n.body_capacity;
  const double w0 = start.winding - air_temperature;
  const double b0 = start.body - air_temperature;
  // p q > 0, so the eigenvalues are real and differ.
  const double half_trace = 0.5 * (a + d);
  const double half_gap = std::sqrt(0.25 * (a - d) * (a - d) + p * q);
  const double fast = half_trace - half_gap;
  const double slow = half_trace + half_gap;
  // The matrix is fast F + slow S with projectors F = (slow I - A)/(slow - fast), S = I - F.
  const double gap = 2.0 * half_gap;
  const auto fast_part = [&](double w, double b) {
    return MotorTemperature{((slow - a) * w - p * b) / gap, (-q * w + (slow - d) * b) / gap};
  };
  const MotorTemperature start_fast = fast_part(w0, b0);
  const MotorTemperature drive_fast = fast_part(u, v);
  const double decay_fast = std::exp(fast * duration);
  const double decay_slow = std::exp(slow * duration);
  const double grow_fast = growth(fast, duration);
  const double grow_slow = growth(slow, duration);
  return {air_temperature + decay_fast * start_fast.winding + grow_fast * drive_fast.winding +
              decay_slow * (w0 - start_fast.winding) + grow_slow * (u - drive_fast.winding),
          air_temperature + decay_fast * start_fast.body + grow_fast * drive_fast.body +
              decay_slow * (b0 - start_fast.body) + grow_slow * (v - drive_fast.body)};
}

}  // namespace sprocketry::model
