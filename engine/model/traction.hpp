#pragma once

#include <array>
#include <cstddef>

#include "model/drive.hpp"
#include "model/road.hpp"

namespace sprocketry::model {

// Between motor shaft and contact patch, with G the reduction, eta its efficiency and r the rolling
// radius.
struct Gearing {
  double ratio = 0;  // 1/m, motor speed per road speed: G/r
  double lever = 0;  // 1/m, wheel force per motor torque: G eta/r
};

// r (m) from a rolling circumference (m): C/(2 pi).
Gearing gearing(double reduction, double efficiency, double rolling_circumference);

// Weight distribution of the bike with its rider.
struct Stance {
  double wheelbase = 0;                 // m
  double centre_of_gravity_height = 0;  // m
  double centre_of_gravity_behind = 0;  // m behind the front axle
  double grip = 0;                      // coefficient of friction
};

// Largest drive force in N on the flat: the lesser of what the rear tyre grips,
// mu m g (a/L)/(1 - mu h/L) (no limit from mu h/L = 1 on), and what lifts the front wheel,
// m g (L - a)/h (moments about the rear contact, drag at the height of the centre of gravity;
// Cossalter, Motorcycle Dynamics, from memory). `mass` in kg with rider and load.
double largest_drive_force(const Stance& stance, double mass);

// A bike on the road: what must be overcome and what may be put down. SI.
struct Rolling {
  RoadLoad load;
  Surroundings air;
  double mass = 0;           // kg, all
  double wheel_mass = 0;     // kg, wheel inertia over r^2
  double rotor_inertia = 0;  // kg m2
  double largest_force = 0;  // N, grip or lift-off
};

// Mass that acceleration feels, in kg: m + J_wheels/r^2 + J_rotor (G/r)^2.
double effective_mass(const Rolling& rolling, const Gearing& gearing);

// Wheel force in N at full throttle and road speed v (m/s): (K I_m - T_loss) lever, held back at
// the largest force, never below 0.
double drive_force(const DriveLimits& limits, const Gearing& gearing, double largest_force,
                   double speed);

// Motor current in A at full throttle: the largest, or what the largest force asks for where grip
// or lift-off limits (the rider holds the throttle there).
double full_throttle_current(const DriveLimits& limits, const Gearing& gearing,
                             double largest_force, double speed);

// Road speeds (m/s, > 0, ascending) at which the law that limits full throttle may change: the
// corners between phase, battery and duty limit and where the force leaves its largest value.
struct Corners {
  std::array<double, 8> speed{};
  std::size_t count = 0;
};
Corners throttle_corners(const DriveLimits& limits, const Gearing& gearing, double largest_force);

// Time in s at full throttle on the flat from one speed to another (m/s): integral of
// m_eff/(F_drive - F_road) dv, exact at the corners, Gauss-Legendre between them on panels over
// which the surplus force falls at most 2.5-fold (relative error below 1e-8). kNone when the
// surplus vanishes on the way. Precondition: from <= to.
double acceleration_time(const DriveLimits& limits, const Gearing& gearing, const Rolling& rolling,
                         Corners corners, double from, double to);

// Largest battery current in A (controller's draw, accessories not counted) at full throttle
// between standstill and `top_speed` m/s. It is greatest at a corner or an end.
double peak_battery_current(const DriveLimits& limits, const Gearing& gearing, double largest_force,
                            const Corners& corners, double top_speed);

}  // namespace sprocketry::model
