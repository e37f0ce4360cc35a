#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <vector>

#include "model/battery.hpp"
#include "model/constants.hpp"
#include "model/controller.hpp"
#include "model/drive.hpp"
#include "model/motor.hpp"
#include "model/traction.hpp"

// Random bikes for property tests. All data invented, drawn from what such bikes are built of; the
// same seed gives the same bikes with every standard library.
namespace sprocketry::model {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}

  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_() >> 11U) * 0x1p-53;
  }
  int between(int low, int high) {  // both included
    return low + static_cast<int>(engine_() % static_cast<std::uint64_t>(high - low + 1));
  }
  bool chance(double share) { return between(0.0, 1.0) < share; }

 private:
  std::mt19937_64 engine_;
};

struct RandomBike {
  Motor motor;
  Controller controller;
  Pack pack;
  double ceiling = std::numeric_limits<double>::infinity();  // A
  double state_of_charge = 0;
  double winding = 0;  // K
  Gearing gear;
  Rolling rolling;

  [[nodiscard]] double phase_current() const {
    return std::min(motor.peak_current, controller.motor_current);
  }
  [[nodiscard]] DriveLimits limits() const {
    return drive_limits(motor, controller, pack, state_of_charge, {winding, winding}, ceiling,
                        phase_current());
  }
};

inline Motor random_motor(Dice& dice) {
  Motor motor;
  motor.torque_constant = dice.between(0.06, 0.35);
  motor.resistance = dice.between(0.005, 0.06);
  motor.loss = {dice.between(0.05, 1.5), dice.chance(0.5) ? dice.between(0.0, 0.004) : 0.0};
  motor.peak_current = dice.between(90.0, 450.0);
  motor.continuous_current = motor.peak_current * dice.between(0.3, 0.9);
  motor.peak_duration = dice.between(10.0, 90.0);
  motor.thermal = {dice.between(0.03, 0.2), dice.between(0.05, 0.4), dice.between(150.0, 1500.0),
                   dice.between(1500.0, 9000.0), kZeroCelsius + dice.between(120.0, 180.0)};
  motor.rotor_inertia = dice.between(0.0, 0.02);
  return motor;
}

inline Controller random_controller(Dice& dice) {
  Controller controller;
  controller.min_voltage = dice.between(10.0, 30.0);
  controller.battery_current = dice.between(60.0, 350.0);
  controller.motor_current = dice.between(90.0, 500.0);
  controller.motor_continuous = controller.motor_current * dice.between(0.3, 0.9);
  controller.efficiency = dice.between(0.9, 1.0);
  return controller;
}

inline Cell random_cell(Dice& dice) {
  Cell cell;
  const double capacity = dice.between(20.0, 160.0);  // Ah
  cell.capacity = capacity * 3600;
  cell.resistance = dice.between(0.03, 0.2) / capacity;
  const int points = dice.between(2, 7);
  double voltage = dice.between(2.6, 3.2);
  for (int i = 0; i < points; ++i) {
    cell.open_circuit.push_back({static_cast<double>(i) / (points - 1), voltage});
    voltage += dice.chance(0.2) ? 0.0 : dice.between(0.02, 0.25);
  }
  cell.full_voltage = cell.open_circuit.back().voltage + 0.1;
  cell.empty_voltage = cell.open_circuit.front().voltage - dice.between(0.1, 0.6);
  cell.usable_from = dice.between(0.9, 1.0);
  cell.usable_to = dice.between(0.0, 0.3);
  cell.continuous_current = capacity * dice.between(0.5, 2.0);
  cell.peak_current = capacity * dice.between(2.0, 6.0);
  cell.rated_hours = dice.chance(0.5) ? 20.0 : 5.0;
  return cell;
}

inline RandomBike random_bike(Dice& dice) {
  RandomBike bike;
  bike.motor = random_motor(dice);
  bike.controller = random_controller(dice);
  bike.pack = make_pack(random_cell(dice), dice.between(12, 30), dice.between(1, 2),
                        dice.between(0.001, 0.01), dice.between(150.0, 500.0));
  // A controller that cuts off just under the empty pack's voltage, so that sagging limits.
  if (dice.chance(0.2)) {
    bike.controller.min_voltage =
        bike.pack.series * bike.pack.cell.open_circuit.front().voltage * dice.between(0.85, 0.99);
  }
  if (dice.chance(0.3)) bike.ceiling = dice.between(40.0, 200.0);
  bike.state_of_charge = dice.between(0.1, 1.0);
  bike.winding = kZeroCelsius + dice.between(20.0, 120.0);
  bike.gear = gearing(dice.between(2.5, 9.0), dice.between(0.92, 0.99), dice.between(1.4, 2.1));
  Rolling& r = bike.rolling;
  r.mass = dice.between(150.0, 350.0);
  r.load = {dice.between(0.006, 0.03), dice.chance(0.3) ? dice.between(0.0, 2.0) : 0.0,
            dice.between(0.3, 0.9)};
  r.air.air_density = dice.between(0.9, 1.3);
  r.air.headwind = dice.chance(0.4) ? 0.0 : dice.between(-9.0, 9.0);
  r.wheel_mass = dice.between(5.0, 25.0);
  r.rotor_inertia = bike.motor.rotor_inertia;
  r.largest_force = r.mass * kGravity * dice.between(0.15, 1.0);
  return bike;
}

// The rest follows the design's text word for word, sharing no formula with the engine.

// Road force in N on a slope of an angle.
inline double text_road_force(const Rolling& r, double grade, double v) {
  const double angle = std::atan(grade);
  const double wind = v + r.air.headwind;
  const double drag = 0.5 * r.air.air_density * r.load.drag_area * wind * wind;
  return r.mass * kGravity * (r.load.rolling_resistance * std::cos(angle) + std::sin(angle)) +
         r.load.linear * v + (wind < 0 ? -drag : drag);
}

// Motor current in A that full throttle gives at an open-circuit voltage and a motor speed: the
// largest that all three limits allow, by halving. Names which of them held.
enum class Limit { kPhase, kBattery, kDuty };
struct TextCurrent {
  double current = 0;
  Limit limit = Limit::kPhase;
};
inline TextCurrent text_motor_current(const RandomBike& b, double voltage, double w) {
  const double pack = b.pack.resistance;
  const double low = std::max(b.pack.series * b.pack.cell.empty_voltage, b.controller.min_voltage);
  const double most =
      std::max(0.0, std::min({b.controller.battery_current, b.pack.current_limit, b.ceiling,
                              (voltage - low) / pack, voltage / (2 * pack)}));
  const double power = b.controller.efficiency * most * (voltage - most * pack);
  const double k = b.motor.torque_constant;
  const double resistance = b.motor.resistance * (1 + 0.00393 * (b.winding - 273.15 - 25));
  const auto battery = [&](double i) { return i * (i * resistance + k * w) <= power; };
  const auto duty = [&](double i) {
    return i * (resistance + pack / b.controller.efficiency) <= voltage - k * w;
  };
  const double phase = b.phase_current();
  if (battery(phase) && duty(phase)) return {phase, Limit::kPhase};
  double held = 0;
  double missed = phase;
  for (int step = 0; step < 200; ++step) {
    const double middle = 0.5 * (held + missed);
    (battery(middle) && duty(middle) ? held : missed) = middle;
  }
  return {held, duty(missed) ? Limit::kBattery : Limit::kDuty};
}

inline double text_loss(const RandomBike& b, double w) {
  return b.motor.loss.constant + b.motor.loss.viscous * w;
}

// Wheel force in N at full throttle before grip.
inline double text_wheel_force(const RandomBike& b, double voltage, double v) {
  const double w = v * b.gear.ratio;
  return (b.motor.torque_constant * text_motor_current(b, voltage, w).current - text_loss(b, w)) *
         b.gear.lever;
}

inline double text_drive_force(const RandomBike& b, double voltage, double v) {
  return std::max(0.0, std::min(text_wheel_force(b, voltage, v), b.rolling.largest_force));
}

inline double text_open_circuit(const Pack& pack, double soc) {
  const std::vector<OpenCircuitPoint>& curve = pack.cell.open_circuit;
  for (std::size_t i = 1; i < curve.size(); ++i) {
    const OpenCircuitPoint& a = curve[i - 1];
    const OpenCircuitPoint& b = curve[i];
    if (soc > b.state_of_charge && i + 1 < curve.size()) continue;
    const double part = (soc - a.state_of_charge) / (b.state_of_charge - a.state_of_charge);
    return pack.series * (a.voltage + std::clamp(part, 0.0, 1.0) * (b.voltage - a.voltage));
  }
  return pack.series * curve.front().voltage;
}

inline double text_effective_mass(const RandomBike& b) {
  return b.rolling.mass + b.rolling.wheel_mass +
         b.rolling.rotor_inertia * b.gear.ratio * b.gear.ratio;
}

}  // namespace sprocketry::model
