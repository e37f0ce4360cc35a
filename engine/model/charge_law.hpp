#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "model/ride.hpp"

namespace sprocketry::model {

// Charge drawn per pass of a ride as a function of the open-circuit voltage E, Peukert's weight
// included. The points' demands are those of `work`.
class ChargeLaw {
 public:
  ChargeLaw(const DriveLimits& limits, double largest_force, const Gearing& gearing,
            const PackSide& side, RideWork& work);

  // True when all points are followed at E (V) and above.
  [[nodiscard]] bool follows(double voltage) const;
  // Charges in C (weighted) of one pass at each E in V when every point is followed. As many
  // charges as voltages, at least one.
  void followed(std::span<const double> voltages, std::span<double> charges) const;
  // Sorts the points into those that are followed at `low` (and so at every higher E) and the rest.
  // The others below hold from there on, after this.
  void sort_out(double low);
  // The charge with each point that cannot be followed at its largest current.
  [[nodiscard]] double limited(double voltage) const;
  // Bounds in C of limited() for all voltages between two.
  struct Bounds {
    double least = 0;
    double most = 0;
  };
  [[nodiscard]] Bounds bounds(double low, double high) const;
  // Voltages in V, ascending, at which limited() has a kink: those that many points share, and the
  // own ones of the `most` points that last longest. Above the steep ones, where a point meets the
  // matched load, it grows as a root does.
  struct Kinks {
    std::vector<double> all;
    std::vector<double> steep;
  };
  [[nodiscard]] Kinks kinks(std::size_t most) const;
  // How many points fall behind somewhere.
  [[nodiscard]] std::size_t hard_points() const { return work_->hard_current.size(); }

  // Largest motor terminal power in W that the pack gives at E.
  [[nodiscard]] double motor_power(double voltage) const;
  // E in V below which followed() is not analytic: where the hardest point meets the matched load.
  [[nodiscard]] double singularity() const;
  // True when some point's battery current crosses the one that Peukert's weight begins at.
  [[nodiscard]] bool crosses_reference(double low, double high) const;
  // Motor current in A of driving point i at the limits' voltage: what it asks for, or the largest
  // that it can have.
  [[nodiscard]] double motor_current(std::size_t i) const;
  // For each point the least of what current, power, full duty and force have left of their limits
  // at E with that motor power: in mixed units, so that only its sign tells. Below 0 the point is
  // not followed.
  [[nodiscard]] const std::vector<double>& left(double voltage, double motor_power) const;

  [[nodiscard]] const PackSide& side() const { return *side_; }
  [[nodiscard]] const DriveLimits& limits() const { return *limits_; }
  [[nodiscard]] RideWork& work() const { return *work_; }
  // True when the cell gives less of its charge to larger currents.
  [[nodiscard]] bool weighs() const { return side_->pack->cell.peukert_exponent > 1.0; }

 private:
  // Seconds times the current that counts.
  [[nodiscard]] double weighted(double battery_current, double duration) const;
  // Charge in C of driving points that are all followed.
  [[nodiscard]] double drawn(const std::vector<double>& power, const std::vector<double>& duration,
                             double voltage) const;
  // The same at several voltages.
  void drawn(const std::vector<double>& power, const std::vector<double>& duration,
             std::span<const double> voltages, std::span<double> charges) const;
  // What each hard point takes from the pack at a voltage, into work.held_pack_power; and the
  // charge of one pass at a voltage with these.
  void held_powers(double voltage) const;
  [[nodiscard]] double held_charge(double voltage) const;
  // W at the pack of a motor's terminal power; E in V at which that is the matched load, and at
  // which it takes the current that Peukert's weight begins at: P/I + I R_b, rising with P.
  [[nodiscard]] double pack_power(double motor_power) const;
  [[nodiscard]] double matched_at(double motor_power) const;
  [[nodiscard]] double reference_at(double motor_power) const;

  const DriveLimits* limits_;
  const PackSide* side_;
  RideWork* work_;
  double reference_current_;  // A of the pack at which the rated capacity holds
  double held_torque_ = 0;    // N m at the largest force
  bool force_followed_ = true;
};

}  // namespace sprocketry::model
