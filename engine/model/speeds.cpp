#include "model/speeds.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

// c0 + c1 v + c2 v^2
struct Quadratic {
  double c0, c1, c2;

  [[nodiscard]] double at(double v) const { return c0 + v * (c1 + v * c2); }
  [[nodiscard]] double slope(double v) const { return c1 + 2.0 * v * c2; }
};

// The greatest root of q(v) = limit for a q that rises beyond it; NaN when there is none.
double greatest_root(const Quadratic& q, double limit) {
  const double c = q.c0 - limit;
  if (q.c2 == 0) return -c / q.c1;
  const double root = std::sqrt(q.c1 * q.c1 - 4.0 * q.c2 * c);
  return q.c1 > 0 ? -2.0 * c / (q.c1 + root) : (root - q.c1) / (2.0 * q.c2);
}

// Steady riding on the flat as polynomials of the speed, valid where the bike outruns a tail wind.
struct SteadyLaw {
  Quadratic force;    // N
  Quadratic current;  // A, valid where the force is positive

  SteadyLaw(const DriveLimits& d, const Gearing& g, const Rolling& r) {
    const double drag = 0.5 * r.air.air_density * r.load.drag_area;
    const double wind = r.air.headwind;
    force = {r.mass * kGravity * r.load.rolling_resistance + drag * wind * wind,
             r.load.linear + 2.0 * drag * wind, drag};
    const double k = d.torque_constant;
    current = {(force.c0 / g.lever + d.loss.constant) / k,
               (force.c1 / g.lever + d.loss.viscous * g.ratio) / k, force.c2 / g.lever / k};
  }
};

// The speed at which current (current R + K w) reaches `power`, coming down from a speed above it:
// power rises and is convex there, so Newton's steps stay above the root and close in.
double power_speed(const DriveLimits& d, const Gearing& g, const SteadyLaw& law, double power,
                   double from) {
  const double back = d.torque_constant * g.ratio;
  double v = from;
  constexpr int kMaxSteps = 80;
  for (int step = 0; step < kMaxSteps; ++step) {
    const double i = law.current.at(v);
    const double excess = i * (i * d.resistance + back * v) - power;
    if (excess <= 0) break;
    const double slope = law.current.slope(v) * (2.0 * i * d.resistance + back * v) + i * back;
    const double next = v - excess / slope;
    if (!(next < v)) break;
    v = next;
  }
  return v;
}

// The same for the rise of the winding: I^2 R_hot R_copper + R_friction T_loss w <= allowed.
double winding_speed(const DriveLimits& d, const ContinuousLimits& c, const Gearing& g,
                     const SteadyLaw& law, double from) {
  const double copper = c.hot_resistance * c.copper_to_air;
  double v = from;
  constexpr int kMaxSteps = 80;
  for (int step = 0; step < kMaxSteps; ++step) {
    const double i = law.current.at(v);
    const double w = g.ratio * v;
    const double excess = i * i * copper + c.friction_to_air * d.loss.at(w) * w - c.allowed_rise;
    if (excess <= 0) break;
    const double slope = 2.0 * i * law.current.slope(v) * copper +
                         c.friction_to_air * g.ratio * (d.loss.constant + 2.0 * d.loss.viscous * w);
    const double next = v - excess / slope;
    if (!(next < v)) break;
    v = next;
  }
  return v;
}

// Below a tail wind drag pushes and the polynomials do not hold; there the limits are found by
// bisection of whether a speed is held.
template <typename Holds>
double bisect(const Holds& holds, double low, double high) {
  if (!holds(low)) return 0.0;
  for (int step = 0; step < 200; ++step) {
    const double middle = 0.5 * (low + high);
    if (!(middle > low && middle < high)) break;
    (holds(middle) ? low : high) = middle;
  }
  return low;
}

double flat_force(const Rolling& r, double v) { return road_force(r.load, r.air, r.mass, 0, v); }

bool holds_top(const DriveLimits& d, const Gearing& g, const Rolling& r, double v) {
  return drive_force(d, g, r.largest_force, v) >= flat_force(r, v);
}

bool holds_for_ever(const DriveLimits& d, const ContinuousLimits& c, const Gearing& g,
                    const Rolling& r, double v) {
  if (!holds_top(d, g, r, v)) return false;
  const double w = g.ratio * v;
  const double i = demanded_current(d, g, flat_force(r, v), v);
  const double pack_power =
      i * (i * d.resistance + d.torque_constant * w) / d.efficiency + c.accessories;
  const double pack = std::min(c.pack_current, 0.5 * d.voltage / d.pack_resistance);
  const double rise =
      i * i * c.hot_resistance * c.copper_to_air + c.friction_to_air * d.loss.at(w) * w;
  return i <= c.motor_current && pack_power <= pack * (d.voltage - pack * d.pack_resistance) &&
         rise <= c.allowed_rise;
}

// Least of the speeds at which phase limit, full duty and largest force are reached.
double simple_limits(const DriveLimits& d, const Gearing& g, const Rolling& r, const SteadyLaw& law,
                     double phase_current) {
  const Quadratic duty{law.current.c0 * d.duty_resistance,
                       law.current.c1 * d.duty_resistance + d.torque_constant * g.ratio,
                       law.current.c2 * d.duty_resistance};
  // fmin passes over the NaN of a limit that is never reached.
  return std::fmin(greatest_root(duty, d.voltage),
                   std::fmin(greatest_root(law.current, phase_current),
                             greatest_root(law.force, r.largest_force)));
}

}  // namespace

double demanded_current(const DriveLimits& d, const Gearing& g, double force, double speed) {
  if (force <= 0) return 0.0;
  return (force / g.lever + d.loss.at(g.ratio * speed)) / d.torque_constant;
}

double top_speed(const DriveLimits& d, const Gearing& g, const Rolling& r) {
  const double start = std::max(0.0, -r.air.headwind);
  if (!holds_top(d, g, r, start)) {
    return start > 0 ? bisect([&](double v) { return holds_top(d, g, r, v); }, 0.0, start) : 0.0;
  }
  const SteadyLaw law(d, g, r);
  const double simple = simple_limits(d, g, r, law, d.phase_current);
  return std::max(start, power_speed(d, g, law, d.motor_power, simple));
}

ContinuousLimits continuous_limits(const Motor& motor, const Controller& controller,
                                   const Pack& pack, double accessories, double air_temperature) {
  const ThermalNetwork& n = motor.thermal;
  return {std::min(motor.continuous_current, controller.motor_continuous),
          pack.continuous_current,
          accessories,
          winding_resistance(motor.resistance, n.max_winding),
          n.winding_to_body + n.body_to_air,
          n.body_to_air,
          n.max_winding - air_temperature};
}

double sustained_speed(const DriveLimits& d, const ContinuousLimits& c, const Gearing& g,
                       const Rolling& r) {
  const double start = std::max(0.0, -r.air.headwind);
  const auto holds = [&](double v) { return holds_for_ever(d, c, g, r, v); };
  if (!holds(start)) return start > 0 ? bisect(holds, 0.0, start) : 0.0;
  const SteadyLaw law(d, g, r);
  const double pack = std::min(c.pack_current, 0.5 * d.voltage / d.pack_resistance);
  const double pack_power =
      d.efficiency * (pack * (d.voltage - pack * d.pack_resistance) - c.accessories);
  double v = simple_limits(d, g, r, law, std::min(d.phase_current, c.motor_current));
  v = power_speed(d, g, law, std::min(d.motor_power, pack_power), v);
  v = winding_speed(d, c, g, law, v);
  return std::max(start, v);
}

}  // namespace sprocketry::model
