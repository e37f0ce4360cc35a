#include "report/input_words.hpp"

#include <algorithm>
#include <array>

namespace sprocketry::report {
namespace {

// Of a part the name begins the sentence "... of ID". Ways of measuring are common practice.
struct Words {
  std::string_view pattern;
  std::string_view name;
  std::string_view how;
};
constexpr std::string_view kWeigh = "weigh it";
constexpr std::string_view kOffer = "ask for an offer";
constexpr std::string_view kTape = "measure it with a tape";
constexpr std::string_view kCaliper = "measure it with a caliper";
constexpr std::string_view kAngle = "hold an inclinometer against it";
constexpr std::string_view kSheet = "read its data sheet, or ask the maker";
constexpr std::string_view kCold =
    "discharge one in the cold through a meter, and step the current";
constexpr std::string_view kScales = "weigh it on two scales, one under each wheel";
constexpr std::string_view kWarm =
    "hold a known current until the winding's temperature settles, and note how it got there";
constexpr std::string_view kCoast =
    "let it coast down on a level road in still air and time it from speed to speed";
constexpr std::array kWords = {
    Words{"bike.drag_area", "drag area of bike and rider", kCoast},
    Words{"bike.rolling_resistance", "rolling resistance",
          "pull the bike with its rider along level ground with a spring scale"},
    Words{"bike.road_load.f0", "constant road load", kCoast},
    Words{"bike.road_load.f1", "road load by speed", kCoast},
    Words{"bike.road_load.f2", "road load by the square of speed", kCoast},
    Words{"bike.mass", "mass of the rolling chassis", kScales},
    Words{"rider.mass", "mass of the rider", "weigh the rider, dressed to ride"},
    Words{"load.mass", "mass of the load", kWeigh},
    Words{"bike.wheelbase", "wheelbase", "measure from axle to axle"},
    Words{"bike.centre_of_gravity.height", "height of the centre of gravity",
          "weigh the front wheel on the level and again with the rear raised"},
    Words{"bike.centre_of_gravity.behind_front_axle", "place of the centre of gravity",
          "weigh each wheel with the rider on, the bike level"},
    Words{"bike.accessories", "what lights and horn draw",
          "measure the current with everything switched on"},
    Words{"bike.wheel_inertia", "inertia of the wheels",
          "hang each wheel by its rim and time its swing"},
    Words{"bike.tyre.rollout", "rolling circumference of the tyre",
          "mark the tyre and roll one turn along a tape with the rider on"},
    Words{"bike.primary.efficiency", "efficiency of the first stage",
          "measure the power into it and out of it"},
    Words{"bike.max_gross_mass", "permitted mass of bike and rider",
          "read the type plate or the papers"},
    Words{"bike.centre_distance.min", "shortest distance from shaft to axle", kTape},
    Words{"bike.centre_distance.max", "longest distance from shaft to axle", kTape},
    Words{"bike.rear_sprocket.bolt_circle", "bolt circle of the wheel", kCaliper},
    Words{"bike.rear_sprocket.max_diameter", "room for the rear sprocket", kTape},
    Words{"bike.chain_line.wheel_face", "wheel's mounting face from the middle", kTape},
    Words{"bike.chain_line.shaft_face", "shaft's mounting face from the middle", kTape},
    Words{"bike.chain_line.rear_spacer", "spacer behind the rear sprocket", kCaliper},
    Words{"bike.primary.ratio", "ratio of the first stage", "count the teeth of both wheels"},
    Words{"bike.primary.output_bore", "output shaft of the first stage", kCaliper},
    Words{"bike.primary.mass", "mass of the first stage", kWeigh},
    Words{"bike.primary.price", "price of the first stage", kOffer},
    Words{"bike.road_load.air", "air temperature of the coast-down", ""},
    Words{"bike.road_load.altitude", "altitude of the coast-down", ""},
    Words{"bike.road_load.mass", "mass of the coast-down", "weigh bike and rider as they were"},
    Words{"bike.space.battery.length", "length of the room for the battery", kTape},
    Words{"bike.space.battery.width", "width of the room for the battery", kTape},
    Words{"bike.space.battery.height", "height of the room for the battery", kTape},
    Words{"bike.space.motor.diameter", "diameter of the room for the motor", kTape},
    Words{"bike.space.motor.length", "length of the room for the motor", kTape},
    Words{"bike.swing_arm.length", "length of the swing arm", "measure from pivot to axle"},
    Words{"bike.swing_arm.shaft_from_pivot.forward", "how far the shaft stands before the pivot",
          kTape},
    Words{"bike.swing_arm.shaft_from_pivot.up", "how far the shaft stands above the pivot", kTape},
    Words{"bike.swing_arm.droop", "angle of the hanging swing arm", kAngle},
    Words{"bike.swing_arm.rest", "angle of the swing arm at rest", kAngle},
    Words{"bike.swing_arm.bump", "angle of the swing arm at full bump", kAngle},
    Words{"bike.swing_arm.pivot_diameter", "diameter at the pivot", kCaliper},
    Words{"tyres.rollout", "rolling circumference of a tyre",
          "mark the tyre and roll one turn along a tape with the rider on"},
    Words{"charging.outlet", "power of the outlet", "read the breaker of the outlet"},
    Words{"charging.price_per_kwh", "price of energy", "read the bill"},
    Words{"conditions.air", "air temperature", ""},
    Words{"conditions.altitude", "altitude", ""},
    Words{"conditions.headwind", "headwind", ""},
    Words{"conditions.grip", "grip", ""},
    Words{"conditions.winding", "temperature of the winding", ""},
    Words{"conditions.pack.temperature", "temperature of the pack", ""},
    Words{"conditions.pack.health", "health of the pack", ""},
    Words{"conditions.state_of_charge", "state of charge", ""},
    Words{"conditions.low_state_of_charge", "low state of charge", ""},
    Words{"motors.*.resistance", "resistance",
          "pass a known direct current through two terminals and measure the voltage at them"},
    Words{"motors.*.speed_constant", "speed constant",
          "spin it and measure its speed and the voltage that it makes"},
    Words{"motors.*.no_load.0.current", "no-load current", "run it unloaded and read the meter"},
    Words{"motors.*.no_load.1.current", "second no-load current",
          "run it unloaded and read the meter"},
    Words{"motors.*.rotor_inertia", "inertia of the rotor",
          "time how it runs up unloaded at a known current"},
    Words{"motors.*.current.continuous", "continuous current", kWarm},
    Words{"motors.*.current.peak", "peak current", ""},
    Words{"motors.*.current.for", "duration of the peak current", kWarm},
    Words{"motors.*.thermal.resistance", "thermal resistance", kWarm},
    Words{"motors.*.thermal.capacity", "heat capacity", kWarm},
    Words{"motors.*.thermal.winding_to_body", "thermal resistance from winding to body", kWarm},
    Words{"motors.*.thermal.body_to_air", "thermal resistance from body to air", kWarm},
    Words{"motors.*.thermal.winding_capacity", "heat capacity of the winding", kWarm},
    Words{"motors.*.thermal.body_capacity", "heat capacity of the body", kWarm},
    Words{"controllers.*.efficiency", "efficiency",
          "measure voltage and current on both sides at a steady load"},
    Words{"controllers.*.current.for", "duration of the peak current", ""},
    Words{"controllers.*.current.battery", "battery current",
          "read the draw at full throttle with a clamp meter"},
    Words{"cells.*.capacity", "capacity", "discharge one from full to empty through a meter"},
    Words{"cells.*.resistance", "resistance",
          "step the current and read by how much the voltage gives way"},
    Words{"cells.*.pack.resistance", "resistance of the links in a pack",
          "load the pack and measure the voltage along its links"},
    Words{"chargers.*.current", "current", "read it with a clamp meter"},
    Words{"chains.*.loss", "fixed loss", "turn the wheel with the chain on and off, and compare"},
    Words{"chains.*.friction", "friction in the pins", "clean it and keep it lubricated"},
    Words{"motors.*.no_load.0.voltage", "voltage of the no-load current",
          "read both meters at once"},
    Words{"motors.*.no_load.1.voltage", "voltage of the second no-load current",
          "read both meters at once"},
    Words{"motors.*.max_voltage", "highest voltage", kSheet},
    Words{"motors.*.max_speed", "highest speed", kSheet},
    Words{"motors.*.thermal.max_winding", "hottest winding that is allowed", kSheet},
    Words{"motors.*.shaft.diameter", "shaft diameter", kCaliper},
    Words{"motors.*.shaft.length", "shaft length", kCaliper},
    Words{"motors.*.size.diameter", "diameter", kTape},
    Words{"motors.*.size.length", "length", kTape},
    Words{"controllers.*.voltage.min", "lowest voltage", kSheet},
    Words{"controllers.*.voltage.max", "highest voltage", kSheet},
    Words{"controllers.*.current.motor", "motor current",
          "read a phase or motor lead with a clamp meter"},
    Words{"controllers.*.current.motor_continuous", "continuous motor current", kSheet},
    Words{"controllers.*.capacitance", "capacitance at the input", kSheet},
    Words{"cells.*.nominal_voltage", "nominal voltage", kSheet},
    Words{"cells.*.full_voltage", "voltage when full", kSheet},
    Words{"cells.*.empty_voltage", "voltage when empty", kSheet},
    Words{"cells.*.usable.from", "state of charge when a ride begins", ""},
    Words{"cells.*.usable.to", "state of charge at which a ride ends",
          "see at which charge the pack no longer holds up on the hardest stretch"},
    Words{"cells.*.current.continuous", "continuous current", kSheet},
    Words{"cells.*.current.peak", "peak current", kSheet},
    Words{"cells.*.current.charge", "charge current", kSheet},
    Words{"cells.*.peukert.exponent", "Peukert exponent",
          "discharge one at two currents and compare the charge"},
    Words{"cells.*.peukert.hours", "hours of the rated capacity", kSheet},
    Words{"cells.*.cold.at", "temperature of the cold data", kSheet},
    Words{"cells.*.cold.resistance", "rise of the resistance in the cold", kCold},
    Words{"cells.*.cold.capacity", "share of the capacity in the cold", kCold},
    Words{"cells.*.charge_efficiency", "charge returned per charge put in",
          "charge and discharge one through a meter that counts Ah"},
    Words{"cells.*.size.diameter", "diameter", kCaliper},
    Words{"cells.*.size.length", "length", kCaliper},
    Words{"cells.*.size.width", "width", kCaliper},
    Words{"cells.*.size.height", "height", kCaliper},
    Words{"cells.*.pack.mass", "mass of case, links and board of a pack", kWeigh},
    Words{"cells.*.pack.price", "price of case, links and board of a pack", kOffer},
    Words{"cells.*.pack.current", "current of the board of a pack", kSheet},
    Words{"chargers.*.efficiency", "efficiency",
          "measure power from the wall, and voltage and current into the pack"},
    Words{"chargers.*.full_voltage.min", "lowest full-charge voltage", kSheet},
    Words{"chargers.*.full_voltage.max", "highest full-charge voltage", kSheet},
    Words{"chains.*.mass_per_length", "mass per length", "weigh a length of it"},
    Words{"chains.*.tensile_strength", "breaking load",
          "ask the maker for the breaking load of this chain"},
    Words{"chains.*.max_speed", "highest chain speed", kSheet},
    Words{"chains.*.pitch", "pitch", kCaliper},
    Words{"chains.*.roller", "roller diameter", kCaliper},
    Words{"chains.*.pin", "pin diameter", kCaliper},
    Words{"chains.*.width", "width between the plates", kCaliper},
    Words{"chains.*.price_per_link", "price per link", kOffer},
    Words{"front_sprockets.*.bore", "bore", kCaliper},
    Words{"front_sprockets.*.hub_diameter", "hub diameter", kCaliper},
    Words{"front_sprockets.*.hub_length", "hub length", kCaliper},
    Words{"front_sprockets.*.key_strength", "yield strength of the key",
          "ask for the steel of the key and its data sheet"},
    Words{"front_sprockets.*.set_screws.size", "size of the set screws", kCaliper},
    Words{"rear_sprockets.*.bolt_circle", "bolt circle", kCaliper},
    Words{"extras.*.when.full_voltage.min", "full-charge voltage from which it is needed", ""},
    Words{"extras.*.when.full_voltage.max", "full-charge voltage up to which it is needed", ""},
    Words{"extras.*.when.nominal_voltage.min", "nominal voltage from which it is needed", ""},
    Words{"extras.*.when.nominal_voltage.max", "nominal voltage up to which it is needed", ""},
    Words{"extras.*.when.battery_current.min", "battery current from which it is needed", ""},
    Words{"extras.*.when.battery_current.max", "battery current up to which it is needed", ""},
};

// What parts of every kind have.
constexpr std::array kShared = {
    Words{".mass", "mass", kWeigh},
    Words{".mass.base", "mass without teeth", kWeigh},
    Words{".mass.per_tooth", "mass per tooth", kWeigh},
    Words{".price", "price", kOffer},
    Words{".price.base", "price without teeth", kOffer},
    Words{".price.per_tooth", "price per tooth", kOffer},
    Words{".fabrication", "price of welding and machining", kOffer},
};

const Words* find_words(const parts::Input& input) {
  const auto own = std::ranges::find(kWords, input.pattern, &Words::pattern);
  if (own != kWords.end()) return &*own;
  if (input.path == input.pattern) return nullptr;
  const auto shared = std::ranges::find_if(
      kShared, [&](const Words& words) { return input.pattern.ends_with(words.pattern); });
  return shared == kShared.end() ? nullptr : &*shared;
}

}  // namespace

InputWords words_of(const parts::Input& input) {
  const Words* found = find_words(input);
  if (found == nullptr) return {input.path, ""};
  std::string name(found->name);
  if (input.path != input.pattern) {
    // "motors.*.resistance" and "motors.hollin-48.resistance" differ by the id alone.
    const std::size_t star = input.pattern.find('*');
    const std::size_t length = input.path.size() + 1 - input.pattern.size();
    name += " of " + input.path.substr(star, length);
  }
  return {name, found->how};
}

bool is_measured(const parts::Input& input) { return !input.path.starts_with("conditions."); }

std::string value_text(const parts::Input& input) {
  if (!input.dimension) return parts::number_text(input.value);
  const double value = units::in_unit(input.value, *input.dimension, input.symbol);
  return parts::number_text(value) + " " + std::string(input.symbol);
}

}  // namespace sprocketry::report
