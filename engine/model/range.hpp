#pragma once

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
  // Charge in C (weighted) of one pass at E when every point is followed.
  [[nodiscard]] double followed(double voltage) const;
  // Sorts the points into those that are followed at E (and so at every higher E) and the rest.
  void split(double voltage);
  // The charge with each point that cannot be followed at its largest current, for an E that is not
  // below that of split().
  [[nodiscard]] double limited(double voltage) const;
  // Largest motor terminal power in W that the pack gives at E.
  [[nodiscard]] double motor_power(double voltage) const;
  // True when some point's battery current crosses the one that Peukert's weight begins at.
  [[nodiscard]] bool crosses_reference(double low, double high) const;
  // Motor current in A of driving point i at E: what it asks for, or the largest that it can have.
  [[nodiscard]] double motor_current(std::size_t i, double voltage, double motor_power) const;
  // True when point i is followed at E with that motor power.
  [[nodiscard]] bool follows(std::size_t i, double voltage, double motor_power) const;

  [[nodiscard]] const PackSide& side() const { return *side_; }

 private:
  // Seconds times the current that counts.
  [[nodiscard]] double weighted(double battery_current, double duration) const;
  // Charge in C of driving points that are all followed.
  [[nodiscard]] double drawn(const std::vector<double>& power, const std::vector<double>& duration,
                             double voltage) const;
  [[nodiscard]] bool weighs() const { return side_->pack->cell.peukert_exponent > 1.0; }

  const DriveLimits* limits_;
  const PackSide* side_;
  RideWork* work_;
  double reference_current_;  // A of the pack at which the rated capacity holds
  double largest_current_ = 0;
  double largest_power_ = 0;
  double largest_duty_voltage_ = 0;
  double held_torque_ = 0;  // N m at the largest force
  bool force_followed_ = true;
};

// Integral over the usable window of 1/charge d soc, in 1/C. See ride().
double inverse_charge_integral(ChargeLaw& law);

}  // namespace sprocketry::model
