#pragma once

#include <optional>

namespace sprocketry::model {

// A step-down chopper between pack and motor.
struct Controller {
  bool drives_brushed = false;
  bool drives_brushless = false;
  double min_voltage = 0;             // V, low-voltage cut-off
  double max_voltage = 0;             // V
  double battery_current = 0;         // A drawn from the pack, rating
  double motor_current = 0;           // A into the motor (DC equivalent), rating
  double motor_continuous = 0;        // A, for ever
  double peak_duration = 60;          // s for which motor_current may flow
  bool settable = true;               // can be set to a lower current than its rating
  double efficiency = 1;              // 0..1
  std::optional<double> capacitance;  // F across the pack's terminals
};

}  // namespace sprocketry::model
