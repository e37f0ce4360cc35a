#include <algorithm>
#include <array>

#include "parts/limits.hpp"
#include "parts/load_parts.hpp"

namespace sprocketry::parts {
namespace {

namespace rule = limits::motor;

constexpr std::string_view kSeriesReason =
    "a series-wound motor has no permanent magnets: its torque is not proportional to its current, "
    "which the model needs";
constexpr std::string_view kInductionReason =
    "an induction motor has no permanent magnets: its torque is not proportional to its current, "
    "which the model needs";
constexpr std::string_view kHubReason =
    "a hub motor sits in the wheel: there is no chain and no sprocket to choose";

constexpr std::string_view kTotalExample =
    "{resistance: 0.24 K/W, capacity: 5000 J/K, max_winding: 150 degC}";
constexpr std::array<std::string_view, 4> kNetworkKeys = {"winding_to_body", "body_to_air",
                                                          "winding_capacity", "body_capacity"};

struct Refusal {
  std::string_view kind;
  std::string_view reason;
};
constexpr std::array kRefused = {
    Refusal{"series", kSeriesReason},          Refusal{"series-wound", kSeriesReason},
    Refusal{"series_wound", kSeriesReason},    Refusal{"induction", kInductionReason},
    Refusal{"asynchronous", kInductionReason}, Refusal{"hub", kHubReason},
};

void read_kind(Reader& reader, model::Motor& motor) {
  const document::Node* node = reader.require("kind", "brushed");
  if (node == nullptr) return;
  const auto refused = std::ranges::find(kRefused, node->scalar, &Refusal::kind);
  if (refused != kRefused.end()) {
    reader.error("kind", "`kind` \"" + node->scalar + "\" cannot be computed",
                 std::string(refused->reason) + "; use a brushed or brushless motor with magnets");
    return;
  }
  const auto kind = read_choice(*node, "kind", {"brushed", "brushless"}, reader.findings());
  if (kind) motor.kind = *kind == 0 ? model::MotorKind::kBrushed : model::MotorKind::kBrushless;
}

void read_magnet(Reader& reader, model::Motor& motor) {
  const document::Node* node = reader.take("magnet");
  if (node == nullptr) return;
  const auto magnet = read_choice(*node, "magnet", {"neodymium", "ferrite"}, reader.findings());
  if (magnet) motor.magnet = *magnet == 0 ? model::Magnet::kNeodymium : model::Magnet::kFerrite;
}

void read_current(Reader& reader, model::Motor& motor) {
  auto current = reader.map("current", {}, "{continuous: 110 A, peak: 280 A, for: 60 s}");
  if (!current) return;
  const auto continuous = current->quantity("continuous", rule::kCurrent);
  const auto peak = current->quantity("peak", rule::kCurrent);
  motor.peak_duration = current->quantity_or("for", limits::kPeakDuration, "60 s", kCommonPractice);
  current->check_ascending("continuous", continuous, "peak", peak,
                           "a peak rating is at least the continuous one");
  current->finish();
  motor.continuous_current = continuous.value_or(0);
  motor.peak_current = peak.value_or(0);
}

// One or two points that stand for a motor that turns.
std::vector<model::NoLoadPoint> read_no_load_points(Reader& reader, double resistance) {
  const auto* items = reader.list("no_load", "[{voltage: 48 V, current: 5 A}]");
  if (items == nullptr) return {};
  if (items->size() > 2) {
    reader.error("no_load", "`no_load` has " + std::to_string(items->size()) + " points",
                 "give one or two: the loss torque is a straight line over speed");
    return {};
  }
  std::vector<model::NoLoadPoint> points;
  for (const document::Node& item : *items) {
    Reader point = reader.item("no_load", points.size(), item, "a no-load point");
    const auto voltage = point.quantity("voltage", rule::kVoltage);
    const auto current = point.quantity("current", rule::kNoLoadCurrent);
    point.finish();
    if (!voltage || !current) continue;
    if (*current * resistance >= *voltage) {
      point.error("current",
                  "a no-load current of " + number_text(*current) +
                      " A through the resistance takes the whole " + number_text(*voltage) +
                      " V: the motor would not turn",
                  "check the current and the resistance");
      continue;
    }
    points.push_back({*voltage, *current});
  }
  return points.size() == items->size() ? points : std::vector<model::NoLoadPoint>{};
}

void read_loss(Reader& reader, model::Motor& motor) {
  const auto points = read_no_load_points(reader, motor.resistance);
  if (points.empty() || motor.torque_constant <= 0) return;
  if (points.size() == 2 && points[0].voltage >= points[1].voltage) {
    reader.error("no_load", "the points of `no_load` do not ascend in voltage",
                 "write the point with the lower voltage first");
    return;
  }
  // The voltage left for the speed must ascend as well, or the line has no slope.
  if (points.size() == 2 && points[0].voltage - points[0].current * motor.resistance >=
                                points[1].voltage - points[1].current * motor.resistance) {
    reader.error("no_load", "`no_load` says that the motor turns no faster at the higher voltage",
                 "check both points, or give one only");
    return;
  }
  motor.loss = model::loss_torque(motor.torque_constant, motor.resistance, points);
  if (motor.loss.constant < 0) {
    reader.error("no_load",
                 "`no_load` implies a friction torque of " + number_text(motor.loss.constant) +
                     " N m at standstill, which would drive the motor",
                 "check both points, or drop one: with one point the friction is constant");
  } else if (motor.loss.viscous < 0) {
    reader.error("no_load",
                 "`no_load` implies a loss that falls with speed (" +
                     number_text(motor.loss.viscous) + " N m s/rad)",
                 "check both points, or drop one: with one point the friction is constant");
  }
}

void read_total_thermal(Reader& thermal, MotorPart& part) {
  const auto resistance = thermal.quantity("resistance", rule::kThermalResistance);
  const auto capacity = thermal.quantity("capacity", rule::kHeatCapacity);
  const auto max_winding = thermal.quantity("max_winding", rule::kMaxWinding);
  thermal.record_default("winding_to_body", "40 % of the resistance, copper 13 % of the mass",
                         kCommonPractice);
  if (!resistance || !capacity || !max_winding || part.mass <= 0) return;
  part.model.thermal = model::split_thermal(*resistance, *capacity, *max_winding, part.mass);
}

void read_network(Reader& thermal, model::ThermalNetwork& network) {
  network.winding_to_body =
      thermal.quantity("winding_to_body", rule::kThermalResistance).value_or(0);
  network.body_to_air = thermal.quantity("body_to_air", rule::kThermalResistance).value_or(0);
  network.winding_capacity = thermal.quantity("winding_capacity", rule::kHeatCapacity).value_or(0);
  network.body_capacity = thermal.quantity("body_capacity", rule::kHeatCapacity).value_or(0);
  network.max_winding = thermal.quantity("max_winding", rule::kMaxWinding).value_or(0);
}

// A limit for the winding, or nothing that was known: neither form has begun.
void report_no_form(Reader& reader, Reader& thermal) {
  thermal.optional_quantity("max_winding", rule::kMaxWinding);
  for (const auto* key : {"resistance", "capacity"}) thermal.take(key);
  for (const std::string_view key : kNetworkKeys) thermal.take(key);
  const bool table = thermal.in_table();
  const std::string total =
      table
          ? "fill `thermal.resistance` and `thermal.capacity` of the whole motor, for example with "
            "0.24 K/W and 5000 J/K"
          : "add `resistance` and `capacity` of the whole motor, as " + std::string(kTotalExample);
  reader.findings().diagnostics.error(
      table ? thermal.mark() : reader.mark_of("thermal"),
      thermal.what() + " does not say how heat leaves the motor and how much it holds",
      total + "; or all of " + joined({kNetworkKeys.begin(), kNetworkKeys.end()}) + "; or leave " +
          (table ? "the thermal cells of this row empty" : "`thermal` out") +
          ": it is then estimated from the continuous current");
}

// An estimate is uncertain as a whole: its total resistance and capacity.
void vary_estimate(Reader& reader, MotorPart& part) {
  model::ThermalNetwork& network = part.model.thermal;
  const double resistance = network.winding_to_body + network.body_to_air;
  const double capacity = network.winding_capacity + network.body_capacity;
  const double other_resistance =
      reader.derived("thermal.resistance", resistance, rule::kThermalResistance, "K/W");
  const double other_capacity =
      reader.derived("thermal.capacity", capacity, rule::kHeatCapacity, "J/K");
  if (other_resistance == resistance && other_capacity == capacity) return;
  network = model::split_thermal(other_resistance, other_capacity, network.max_winding, part.mass);
}

void read_thermal(Reader& reader, MotorPart& part) {
  const document::Node* node = reader.take("thermal");
  if (node == nullptr) {
    part.thermal_estimated = true;
    if (part.model.continuous_current <= 0 || part.model.resistance <= 0 || part.mass <= 0) return;
    part.model.thermal =
        model::estimated_thermal(part.model.continuous_current, part.model.resistance, part.mass);
    reader.record_default("thermal", "estimated: the continuous current holds 130 degC in 40 degC",
                          kCommonPractice);
    vary_estimate(reader, part);
    return;
  }
  auto thermal = reader.optional_map("thermal", {}, kTotalExample);
  const auto has = [&](std::string_view key) { return thermal->has(key); };
  if (has("resistance") || has("capacity")) {
    read_total_thermal(*thermal, part);
  } else if (std::ranges::any_of(kNetworkKeys, has)) {
    read_network(*thermal, part.model.thermal);
  } else if (thermal->is_map()) {
    report_no_form(reader, *thermal);
  }
  thermal->finish();
}

void read_shaft(Reader& reader, MotorPart& part) {
  auto shaft = reader.optional_map("shaft", {}, "{diameter: 7/8 in, key: 3/16 in, length: 45 mm}");
  if (!shaft) return;
  Shaft read;
  read.diameter = shaft->quantity("diameter", rule::kShaftDiameter).value_or(0);
  read.key = read_key_width(*shaft);
  read.length = shaft->optional_quantity("length", rule::kShaftLength);
  shaft->finish();
  part.shaft = read;
}

void read_rotor_inertia(Reader& reader, MotorPart& part) {
  constexpr double kInertiaPerMass = 5e-4;  // m2
  const auto stated = reader.optional_quantity("rotor_inertia", rule::kRotorInertia);
  part.model.rotor_inertia = stated.value_or(kInertiaPerMass * part.mass);
  if (reader.has("rotor_inertia")) return;
  part.model.rotor_inertia =
      reader.derived("rotor_inertia", part.model.rotor_inertia, rule::kRotorInertia, "kg m2");
  reader.record_default("rotor_inertia",
                        number_text(part.model.rotor_inertia) + " kg m2 (5e-4 m2 x mass)",
                        kCommonPractice);
}

}  // namespace

void read_motor(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "motors", shelf);
  MotorPart part;
  part.id = id;
  part.mark = node.mark;
  read_kind(reader, part.model);
  read_magnet(reader, part.model);
  const auto speed_constant = reader.quantity("speed_constant", rule::kSpeedConstant);
  if (speed_constant) part.model.torque_constant = model::torque_constant(*speed_constant);
  part.model.resistance = reader.quantity("resistance", rule::kResistance).value_or(0);
  read_loss(reader, part.model);
  part.model.max_voltage = reader.quantity("max_voltage", rule::kVoltage).value_or(0);
  part.model.max_speed = reader.quantity("max_speed", rule::kMaxSpeed).value_or(0);
  read_current(reader, part.model);
  part.mass = reader.quantity("mass", rule::kMass).value_or(0);
  read_thermal(reader, part);
  read_shaft(reader, part);
  if (auto size = reader.optional_map("size", {}, "{diameter: 200 mm, length: 180 mm}")) {
    part.size = read_cylinder(*size);
  }
  read_rotor_inertia(reader, part);
  part.field_weakening = reader.optional_boolean("field_weakening").value_or(false);
  part.price = reader.money("price", "640").value_or(0);
  reader.finish();
  shelf.catalogue.motors.push_back(std::move(part));
}

}  // namespace sprocketry::parts
