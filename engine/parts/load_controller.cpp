#include "parts/limits.hpp"
#include "parts/load_parts.hpp"

namespace sprocketry::parts {
namespace {

namespace rule = limits::controller;

void read_drives(Reader& reader, model::Controller& controller) {
  const auto* kinds = reader.list("drives", "[brushed]");
  if (kinds == nullptr) return;
  for (const document::Node& kind : *kinds) {
    const auto found = read_choice(kind, "drives", {"brushed", "brushless"}, reader.findings());
    if (!found) continue;
    (*found == 0 ? controller.drives_brushed : controller.drives_brushless) = true;
  }
}

void read_voltage(Reader& reader, model::Controller& controller) {
  auto voltage = reader.map("voltage", {}, "{min: 36 V, max: 90 V}");
  if (!voltage) return;
  const auto min = voltage->quantity("min", rule::kVoltage);
  const auto max = voltage->quantity("max", rule::kVoltage);
  voltage->check_ascending("min", min, "max", max, "write the lower voltage as `min`");
  voltage->finish();
  controller.min_voltage = min.value_or(0);
  controller.max_voltage = max.value_or(0);
}

void read_current(Reader& reader, model::Controller& controller) {
  auto current =
      reader.map("current", {}, "{battery: 200 A, motor: 300 A, motor_continuous: 150 A}");
  if (!current) return;
  const auto battery = current->quantity("battery", rule::kBatteryCurrent);
  const auto motor = current->quantity("motor", rule::kMotorCurrent);
  const auto continuous = current->optional_quantity("motor_continuous", rule::kMotorCurrent);
  controller.battery_current = battery.value_or(0);
  controller.motor_current = motor.value_or(0);
  controller.motor_continuous = continuous.value_or(controller.motor_current);
  if (motor && !current->has("motor_continuous")) {
    current->record_default("motor_continuous", number_text(*motor) + " A (as `motor`)",
                            kCommonPractice);
    controller.motor_continuous =
        current->derived("motor_continuous", *motor, rule::kMotorCurrent, "A");
  }
  controller.peak_duration =
      current->quantity_or("for", limits::kPeakDuration, "60 s", kCommonPractice);
  current->check_ascending("motor_continuous", continuous, "motor", motor,
                           "a peak rating is at least the continuous one");
  current->finish();
}

}  // namespace

void read_controller(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "controllers", shelf);
  ControllerPart part;
  part.id = id;
  part.mark = node.mark;
  read_drives(reader, part.model);
  read_voltage(reader, part.model);
  read_current(reader, part.model);
  part.model.settable = reader.boolean_or("settable", true, kCommonPractice);
  part.model.efficiency =
      reader.quantity_or("efficiency", rule::kEfficiency, "96 %", kCommonPractice);
  part.model.capacitance = reader.optional_quantity("capacitance", rule::kCapacitance);
  part.mass = reader.quantity("mass", limits::kPartMass).value_or(0);
  part.price = reader.money("price", "260").value_or(0);
  reader.finish();
  shelf.catalogue.controllers.push_back(std::move(part));
}

}  // namespace sprocketry::parts
