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
    Words{"conditions.air", "air temperature", ""},
    Words{"conditions.altitude", "altitude", ""},
    Words{"conditions.headwind", "headwind", ""},
    Words{"conditions.grip", "grip", ""},
    Words{"conditions.winding", "temperature of the winding", ""},
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
    Words{"motors.*.current.for", "time for which the peak current may flow", kWarm},
    Words{"motors.*.thermal.resistance", "thermal resistance", kWarm},
    Words{"motors.*.thermal.capacity", "heat capacity", kWarm},
    Words{"motors.*.thermal.winding_to_body", "thermal resistance, winding to body", kWarm},
    Words{"motors.*.thermal.body_to_air", "thermal resistance, body to air", kWarm},
    Words{"motors.*.thermal.winding_capacity", "heat capacity of the winding", kWarm},
    Words{"motors.*.thermal.body_capacity", "heat capacity of the body", kWarm},
    Words{"controllers.*.efficiency", "efficiency",
          "measure voltage and current on both sides at a steady load"},
    Words{"controllers.*.current.for", "time for which the peak current may flow", ""},
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
};

}  // namespace

InputWords words_of(const parts::Input& input) {
  const auto found = std::ranges::find(kWords, input.pattern, &Words::pattern);
  const bool of_part = input.path != input.pattern;
  if (found == kWords.end()) {
    if (of_part && input.pattern.ends_with(".mass")) return {input.path, kWeigh};
    if (input.pattern.find(".price") != std::string::npos) return {input.path, "ask for an offer"};
    return {input.path, ""};
  }
  std::string name(found->name);
  if (of_part) {
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
