#include <algorithm>
#include <array>
#include <limits>

#include "rules/checks.hpp"

namespace sprocketry::rules {
namespace {

// A full pack this near to the controller's maximum leaves nothing for the spikes of wiring
// inductance and for a load that is switched off; common practice, no source.
constexpr double kVoltageReserve = 0.05;

// Above this DC voltage a bus counts as high voltage: UN R100/R136 definitions, voltage class B of
// ISO 6469-3 (limit from memory).
constexpr double kTouchVoltage = 60.0;

Finding drives(const Context& c, std::size_t) {
  const model::Controller& controller = c.parts.controller->model;
  const bool brushed = c.parts.motor->model.kind == model::MotorKind::kBrushed;
  return must_be(brushed ? controller.drives_brushed : controller.drives_brushless);
}

Finding controller_voltage(const Context& c, std::size_t) {
  return at_most(c.parts.pack->model.full_voltage, c.parts.controller->model.max_voltage);
}

Finding controller_reserve(const Context& c, std::size_t) {
  return at_most(c.parts.pack->model.full_voltage,
                 (1.0 - kVoltageReserve) * c.parts.controller->model.max_voltage);
}

Finding motor_voltage(const Context& c, std::size_t) {
  return at_most(c.parts.pack->model.full_voltage, c.parts.motor->model.max_voltage);
}

Finding low_voltage(const Context& c, std::size_t) {
  return at_least(c.parts.pack->model.empty_voltage, c.parts.controller->model.min_voltage);
}

Finding charger_chemistry(const Context& c, std::size_t) {
  if (!c.parts.charger) return not_given("chargers");
  const auto& known = c.parts.charger->chemistries;
  return must_be(std::ranges::find(known, c.parts.pack->chemistry) != known.end());
}

Finding charger_voltage_low(const Context& c, std::size_t) {
  if (!c.parts.charger) return not_given("chargers");
  return at_least(c.parts.pack->model.full_voltage, c.parts.charger->min_full_voltage);
}

Finding charger_voltage_high(const Context& c, std::size_t) {
  if (!c.parts.charger) return not_given("chargers");
  return at_most(c.parts.pack->model.full_voltage, c.parts.charger->max_full_voltage);
}

Finding charger_current(const Context& c, std::size_t) {
  if (!c.parts.charger) return not_given("chargers");
  return at_most(c.parts.charger->current, c.parts.pack->model.charge_current);
}

Finding fixed_current(const Context& c, std::size_t) {
  const model::Controller& controller = c.parts.controller->model;
  const double ceiling =
      c.requirement.must.battery_current.value_or(std::numeric_limits<double>::infinity());
  const double limit = std::min(c.parts.pack->model.current_limit, ceiling);
  // One that can be set down is set to the limit.
  const double drawn = controller.settable ? std::min(controller.battery_current, limit)
                                           : controller.battery_current;
  return at_most(drawn, limit);
}

Finding touch_voltage(const Context& c, std::size_t) {
  return at_most(c.parts.pack->model.full_voltage, kTouchVoltage);
}

// Below 0 degC charging plates lithium onto the anode for good.
Finding cold_charging(const Context& c, std::size_t) {
  if (c.parts.pack->chemistry == "lead_acid") {
    return not_checkable("the limit is that of lithium cells");
  }
  return at_least(c.requirement.conditions.pack.temperature, model::kZeroCelsius);
}
std::size_t when_freezing(const spec::Requirement& r) {
  return r.conditions.pack.temperature < model::kZeroCelsius ? 1 : 0;
}

using slot::kCharger;
using slot::kController;
using slot::kMotor;
using slot::kPack;
constexpr Stage kStage = Stage::kElectrical;

constexpr std::array kRules = {
    Rule{"controller drives motor", kStage, Kind::kReject, Unit::kNone, kMotor | kController,
         "the controller's data sheet", "the controller is made for this kind of motor", one_item,
         drives},
    Rule{"controller voltage", kStage, Kind::kReject, Unit::kVolt, kController | kPack,
         "the controller's data sheet",
         "the full-charge voltage stays under the controller's maximum", one_item,
         controller_voltage},
    Rule{"controller voltage reserve", kStage, Kind::kCaution, Unit::kVolt, kController | kPack,
         "5 % under the maximum; common practice, no source",
         "some room is left between full charge and the controller's maximum", one_item,
         controller_reserve},
    Rule{"motor voltage", kStage, Kind::kReject, Unit::kVolt, kMotor | kPack,
         "the motor's data sheet", "the full-charge voltage stays under the motor's maximum",
         one_item, motor_voltage},
    Rule{"low voltage", kStage, Kind::kReject, Unit::kVolt, kController | kPack,
         "the controller's data sheet",
         "the controller still works at the voltage at which the pack is empty", one_item,
         low_voltage},
    Rule{"charger chemistry", kStage, Kind::kReject, Unit::kNone, kPack | kCharger,
         "the charger's data sheet", "the charger is made for these cells", one_item,
         charger_chemistry},
    Rule{"charger lowest voltage", kStage, Kind::kReject, Unit::kVolt, kPack | kCharger,
         "the charger's data sheet", "the charger can stop as low as this pack's full charge",
         one_item, charger_voltage_low},
    Rule{"charger highest voltage", kStage, Kind::kReject, Unit::kVolt, kPack | kCharger,
         "the charger's data sheet", "the charger reaches this pack's full charge", one_item,
         charger_voltage_high},
    Rule{"charger current", kStage, Kind::kReject, Unit::kAmpere, kPack | kCharger,
         "the cell's data sheet", "the cells may be charged with the charger's current", one_item,
         charger_current},
    Rule{"fixed battery current", kStage, Kind::kReject, Unit::kAmpere, kController | kPack,
         "the pack's limit and the ceiling of the requirement",
         "a controller that cannot be set down draws no more than the pack gives", one_item,
         fixed_current},
    Rule{"touch voltage", kStage, Kind::kCaution, Unit::kVolt, kPack,
         "60 V DC: UN R136 and ISO 6469-3, voltage class B (from memory)",
         "above 60 V DC a touch can kill: insulation, isolation and training are needed", one_item,
         touch_voltage},
    Rule{"cold charging", kStage, Kind::kCaution, Unit::kCelsius, kPack,
         "0 degC for lithium cells; common practice, no source",
         "the pack is warm enough to be charged; if not, warm it up before", when_freezing,
         cold_charging},
};

}  // namespace

std::span<const Rule> electrical_rules() { return kRules; }

}  // namespace sprocketry::rules
