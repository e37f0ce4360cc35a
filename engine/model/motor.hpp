#pragma once

#include <span>

namespace sprocketry::model {

enum class MotorKind { kBrushed, kBrushless };

// What the magnets are made of; not stated: they are taken as equally strong at any temperature.
enum class Magnet { kNotStated, kNeodymium, kFerrite };

// One line of a no-load test: terminal voltage in V and current in A (DC equivalent).
struct NoLoadPoint {
  double voltage = 0;
  double current = 0;
};

// Friction, windage and iron loss as a torque T(w) = constant + viscous w (N m, N m s/rad).
struct LossTorque {
  double constant = 0;
  double viscous = 0;

  [[nodiscard]] double at(double speed) const { return constant + viscous * speed; }
};

// Two thermal masses in a row: winding, body, outside air. Resistances in K/W, capacities in J/K,
// the highest allowed winding temperature in K.
struct ThermalNetwork {
  double winding_to_body = 0;
  double body_to_air = 0;
  double winding_capacity = 0;
  double body_capacity = 0;
  double max_winding = 0;
};

// A permanent-magnet motor, brushed, or brushless in its DC equivalent (all currents DC
// equivalent).
struct Motor {
  MotorKind kind = MotorKind::kBrushed;
  Magnet magnet = Magnet::kNotStated;
  double torque_constant = 0;     // N m/A = V s/rad, magnets at kWindingReference
  double resistance = 0;          // ohm at kWindingReference, terminal to terminal
  LossTorque loss;                //
  double max_voltage = 0;         // V
  double max_speed = 0;           // rad/s
  double continuous_current = 0;  // A
  double peak_current = 0;        // A
  double peak_duration = 60;      // s for which peak_current may flow
  ThermalNetwork thermal;         //
  double rotor_inertia = 0;       // kg m2
};

// Torque constant K in N m/A (= V s/rad) of a speed constant in rad/s per V: K = 1/kv. (Fitzgerald,
// Electric Machinery; K = 60/(2 pi kv) with kv in rpm/V.)
double torque_constant(double speed_constant);

// Loss torque from one or two no-load points, ascending in voltage. At no load the whole torque
// K I_0 is loss. One point: T_c = K I_0, B = 0. Two points: the line through (w_i, K I_i) with
// w_i = (V_i - I_i R)/K, R in ohm at kWindingReference. The result can be negative for data that do
// not fit the law; the caller checks. Precondition: 1 or 2 points with different speeds.
LossTorque loss_torque(double torque_constant, double resistance,
                       std::span<const NoLoadPoint> no_load);

// Winding resistance in ohm at a temperature in K: R25 (1 + alpha (T - 25 degC)).
double winding_resistance(double resistance_25, double temperature);

// Torque constant in N m/A with the magnets at a temperature in K: K (1 - a (T - 25 degC)), a the
// share of remanence lost per kelvin: 0.11 % neodymium (makers' tables: 0.09 to 0.12 %), 0.20 %
// ferrite (lecture notes on permanent-magnet machines). Straight above the knee of the curve only:
// what overheating or, in ferrite, hard frost destroys for good is not computed.
double warm_torque_constant(const Motor& motor, double magnet_temperature);

// Splits a single thermal resistance (K/W) and capacity (J/K) into two nodes: 40 % of the
// resistance between winding and body, 60 % to the air; copper as 13 % of the motor's mass (kg) at
// 385 J/kg K, at most half of the capacity. Common practice, no source.
ThermalNetwork split_thermal(double resistance, double capacity, double max_winding, double mass);

// A network that just holds the continuous current (A) in 40 degC air at 130 degC in the winding
// (IEC 60085 class B): R = (max - 40 degC)/(I_c^2 R(max)); C = 420 J/kg K x mass. Common practice,
// no source. `resistance_25` in ohm, `mass` in kg.
ThermalNetwork estimated_thermal(double continuous_current, double resistance_25, double mass);

// Largest current (A) for an event of `duration` s when `peak` is allowed for `peak_duration`:
// sqrt(I_c^2 + (I_p^2 - I_c^2) peak_duration/duration) for longer events, else `peak`. Constant
// excess of I^2 t over continuous; common practice, no source.
double current_for_duration(double continuous, double peak, double peak_duration, double duration);

}  // namespace sprocketry::model
