#pragma once

#include <optional>
#include <vector>

#include "model/charge_series.hpp"
#include "model/drive.hpp"
#include "model/heat.hpp"
#include "model/kinked_rule.hpp"
#include "model/limit_laws.hpp"
#include "model/profile.hpp"
#include "model/traction.hpp"

namespace sprocketry::model {

// A ride's operating points as columns of what does not depend on the bike's parts, so that one
// bike's forces are a few multiplications per point.
struct RideColumns {
  std::vector<double> speed;         // m/s
  std::vector<double> acceleration;  // m/s2
  std::vector<double> weight_along;  // m/s2, g sin
  std::vector<double> weight_on;     // m/s2, g cos
  std::vector<double> wind;          // N/m2, 1/2 rho (v + w)|v + w|
  std::vector<double> duration;      // s
  double total_duration = 0;         // s
  double square_speed_time = 0;      // m2/s, integral of v^2 dt
  double distance = 0;               // m
};
RideColumns ride_columns(const RideDemand& demand, const Surroundings& air);

// Room of the range's integral where the bike falls behind (charge_sweep.hpp).
struct SweepWork {
  std::vector<double> easy_power;  // W of the pack, of each easy point
  std::vector<double> hard_power;  // and of each hard one, followed
  std::vector<double> back;        // V, back EMF of each hard point
  std::vector<LimitChanges> changes;
  std::vector<double> cuts;  // V
  KinkedRule::Room rule;
  std::vector<double> moved;  // s, by nodes
  std::vector<double> kinks;  // C/V times V, what the rule misses at each node
};

// Room for one evaluation, reused so that the search does not allocate. Not shared between threads.
struct RideWork {
  // Points at which the motor drives; the rest draw accessories only.
  std::vector<double> motor_speed;  // rad/s
  std::vector<double> current;      // A demanded
  std::vector<double> power;        // W at the motor's terminals
  std::vector<double> duration;     // s
  std::vector<double> force;        // N demanded
  double idle_duration = 0;         // s
  // The largest of each column, and of the voltage that full duty asks for the current, I R' + K w.
  double largest_current = 0;
  double largest_power = 0;
  double largest_force = 0;
  double largest_duty_voltage = 0;
  // Pack power of each point in W, and the series of their charge where that is quicker.
  std::vector<double> pack_power;
  ChargeSeries series;
  std::vector<double> left;  // as ChargeLaw::left() tells
  // What the points take where the bike cannot follow, and the pack's current at each.
  std::vector<double> held_current;
  std::vector<double> held_power;
  std::vector<double> drawn;
  // The same points once more, for a ride that falls behind somewhere in the usable window: those
  // that never do, and those that do with the current that is left when only pack and duty limit.
  std::vector<double> easy_power;
  std::vector<double> easy_duration;
  std::vector<double> hard_speed;
  std::vector<double> hard_current;
  std::vector<double> hard_power;
  std::vector<double> hard_duration;
  std::vector<double> held_pack_power;  // W, what the pack gives each of them at some voltage
  SweepWork sweep;
};

// What the pack is asked: current and voltage laws over the state of charge.
struct PackSide {
  const Pack* pack = nullptr;
  double low_voltage = 0;   // V, cut-off under load
  double stated_limit = 0;  // A, battery current
  double accessories = 0;   // W
};

struct RideResult {
  double consumption = 0;    // J/m at the pack's terminals
  double keeps_up = 0;       // share 0..1 of the time; coasting and standing count as followed
  double pack_mean = 0;      // A
  double range = 0;          // m; kNone when the ride draws no charge
  HeatLoad heat;             // of the motor over the whole ride
  bool follows_all = true;   // at the limits' state of charge
  double first_current = 0;  // A, battery current of the first driving point (steady rides)
  double first_motor = 0;    // A, motor current of the same point
};

// Rides the columns with a bike. `limits` holds the drive at conditions.state_of_charge with its
// peak ratings; consumption, keeps_up, pack_mean and heat are at that state of charge. Range is
// capacity x parallel x integral over the usable window, as far as the open-circuit voltage lies
// above the cut-off under load, of (distance / charge) d soc, every ampere of a cell with a Peukert
// exponent k counting max(1, (I_cell/I_ref)^(k-1)) times.
//
// Wheel force m_eff a + F_road asks for the motor current (F/lever + T_loss)/K, terminal power
// I (I R + K w), pack power P/eta_c + accessories. Where the force is <= 0 the motor draws nothing.
// A point that cannot be followed takes the largest current that the drive gives.
//
// Quadrature: when every point is followed down to the emptiest usable voltage the charge is
// analytic in E and a few Gauss nodes of the window's own measure serve; otherwise the points are
// swept over the window (charge_sweep.hpp); relative error below 1e-6. Where currents weigh or the
// matched load is near, all are summed at the nodes of panels: mostly 1e-6, in extremes 1e-5.
RideResult ride(const RideColumns& columns, const DriveLimits& limits, const Gearing& gearing,
                const Rolling& rolling, const PackSide& pack, RideWork& work);

// The two halves of ride(): everything but the range, which is kNone; and then the range alone, of
// the points that the first half left in `work`. A search that rejects by the first spares the
// second.
RideResult ride_currents(const RideColumns& columns, const DriveLimits& limits,
                         const Gearing& gearing, const Rolling& rolling, const PackSide& pack,
                         RideWork& work);
double ride_range(const RideColumns& columns, const DriveLimits& limits, const Gearing& gearing,
                  const Rolling& rolling, const PackSide& pack, RideWork& work);

// Bounds in m of what ride_range() gives, its quadrature's error included, for a search that can
// often do without the range itself. Nothing where the range is as quick or has none.
struct RangeBounds {
  double least = 0;
  double most = 0;
};
std::optional<RangeBounds> ride_range_bounds(const RideColumns& columns, const DriveLimits& limits,
                                             const Gearing& gearing, const Rolling& rolling,
                                             const PackSide& pack, RideWork& work);

}  // namespace sprocketry::model
