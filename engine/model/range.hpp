#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "model/ride.hpp"

namespace sprocketry::model {

// The range's quadrature leaves up to 1e-6; a bound stands back from it by this factor.
inline constexpr double kRangeSlack = 1.0 + 3e-6;

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
  // Prepares limited() for voltages in [low, high]: sorts the points into those that are followed
  // at `low` (and so at every higher E) and the rest.
  void split(double low, double high);
  // The charge with each point that cannot be followed at its largest current; after split().
  [[nodiscard]] double limited(double voltage) const;
  // Bounds in C of limited() for all voltages between two (V, inside those of split()).
  struct Bounds {
    double least = 0;
    double most = 0;
  };
  [[nodiscard]] Bounds bounds(double low, double high) const;
  // How many points fall behind somewhere; after split().
  [[nodiscard]] std::size_t hard_points() const { return work_->hard_current.size(); }
  // Add the voltages in (low, high) at which limited() has a kink: those that many points share,
  // and the own ones of the `most` points that fall behind longest (where one does, and where its
  // limit changes). After split().
  void add_shared_kinks(double low, double high, std::vector<double>& cuts) const;
  void add_kinks(std::size_t most, double low, double high, std::vector<double>& cuts) const;
  // Largest motor terminal power in W that the pack gives at E.
  [[nodiscard]] double motor_power(double voltage) const;
  // E in V below which followed() is not analytic: where the hardest point meets the matched load.
  [[nodiscard]] double singularity() const;
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
  // The same at several voltages.
  void drawn(const std::vector<double>& power, const std::vector<double>& duration,
             std::span<const double> voltages, std::span<double> charges) const;
  // Charge of the points that are always followed, from their values at Chebyshev nodes.
  [[nodiscard]] double easy_charge(double voltage) const;
  // What each hard point takes from the pack at a voltage, into work.held_pack_power; and the
  // charge of one pass at a voltage with these.
  void held_powers(double voltage) const;
  [[nodiscard]] double held_charge(double voltage) const;
  // Full-duty and battery limit of a hard point.
  [[nodiscard]] double duty_limit(std::size_t hard, double voltage) const;
  [[nodiscard]] double battery_limit(std::size_t hard, double motor_power) const;
  [[nodiscard]] bool weighs() const { return side_->pack->cell.peukert_exponent > 1.0; }

  const DriveLimits* limits_;
  const PackSide* side_;
  RideWork* work_;
  double reference_current_;  // A of the pack at which the rated capacity holds
  double held_torque_ = 0;    // N m at the largest force
  bool force_followed_ = true;
  static constexpr std::size_t kNodes = 10;
  std::array<double, kNodes> node_charge_{};
  double node_middle_ = 0;
  double node_half_ = 0;
};

// Integral over the usable window, as far as the open-circuit voltage lies above the cut-off, of
// 1/charge d soc, in 1/C. See ride().
double inverse_charge_integral(ChargeLaw& law);

// Bounds of that integral in 1/C, at about an eighth of the work; nothing where the integral itself
// is as quick or there is no window.
struct IntegralBounds {
  double least = 0;
  double most = 0;
};
std::optional<IntegralBounds> inverse_charge_bounds(ChargeLaw& law);

}  // namespace sprocketry::model
