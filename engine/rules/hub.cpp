#include "rules/hub.hpp"

#include <array>
#include <cmath>
#include <limits>

#include "model/hub.hpp"
#include "parts/interchange.hpp"
#include "parts/shaft_keys.hpp"
#include "rules/checks.hpp"
#include "rules/front_torque.hpp"

namespace sprocketry::rules {
namespace {

// Yield in shear of the yield in tension by distortion energy (Shigley, section 7-7).
constexpr double kShearShare = 0.577;
// On keys with minor shocks: Hindhede, Machine Design (from memory); 1.5 is for a steady
// torque, 4.5 for heavy shocks with reversal.
constexpr double kKeyFactor = 2.5;
// On what a set screw holds at rest, under changing load: 4 to 8 (a chart of set screws, seen); the
// lesser is taken, so what fails here fails by any reading.
constexpr double kSetScrewFactor = 4.0;

// Torque that one set screw holds on the shaft, N m. Two do not hold twice as much (a maker's page,
// seen), so one counts, however many there are. NaN when something is not given.
double set_screw_torque(const Context& c) {
  const auto& shaft = front_sprocket_shaft(c);
  const auto& screws = c.parts.front->set_screws;
  if (!screws || (!c.parts.front->bore && !shaft)) return model::kNone;
  const auto row = parts::set_screw(screws->size);
  const double diameter = c.parts.front->bore ? *c.parts.front->bore : shaft->diameter;
  return row ? model::holding_torque(row->holding_power, diameter) : model::kNone;
}

Finding key_finding(const KeyLoad& key, double stress, double limit) {
  return key.missing ? not_given(key.missing) : at_most(stress, limit);
}

Finding key_shear(const Context& c, std::size_t) {
  const KeyLoad key = key_load(c);
  return key_finding(key, key.shear, key.shear_limit);
}

Finding key_bearing(const Context& c, std::size_t) {
  const KeyLoad key = key_load(c);
  return key_finding(key, key.bearing, key.bearing_limit);
}

// A key takes the torque off the set screws.
Finding set_screw(const Context& c, std::size_t) {
  const parts::FrontSprocketFamily& front = *c.parts.front;
  if (!front.key) return not_given("front_sprockets.key");
  const double torque = front_sprocket_torque(c.requirement, c.torque.peak);
  const double held = set_screw_torque(c);
  if (*front.key > 0) return at_most(0.0, std::isnan(held) ? 0.0 : held / kSetScrewFactor);
  if (!front.set_screws) return not_given("front_sprockets.set_screws");
  if (std::isnan(held)) return not_given("front_sprockets.bore");
  return at_most(torque, held / kSetScrewFactor);
}

std::string set_screw_reason(const Context& c, std::size_t) {
  const auto whole = [](double torque) { return std::to_string(std::lround(torque)) + " N m"; };
  return "one " + parts::shop_size(c.parts.front->set_screws->size) + " set screw holds " +
         whole(set_screw_torque(c)) + " at rest, a quarter or less under changing load";
}

constexpr Stage kStage = Stage::kStrength;

constexpr std::array kRules = {
    Rule{"key shear", kStage, Kind::kReject, Unit::kMegapascal, 0,
         "0.577 of the key's yield over 2.5: Shigley, section 7-7; factor for minor shocks from "
         "memory",
         "the key between shaft and front sprocket does not shear at the peak torque", one_item,
         key_shear},
    Rule{"key bearing", kStage, Kind::kReject, Unit::kMegapascal, 0,
         "the key's yield over 2.5: Shigley, section 7-7; factor for minor shocks from memory",
         "the sides of the key are not crushed at the peak torque", one_item, key_bearing},
    Rule{"set screw torque", kStage, Kind::kCaution, Unit::kNewtonMetre, 0,
         "Shigley, Table 7-4 (from memory), over 4 under changing load",
         "a set screw without a key is not asked for more than it holds", one_item, set_screw,
         nullptr, false, set_screw_reason},
};

}  // namespace

const std::optional<parts::Shaft>& front_sprocket_shaft(const Context& context) {
  return front_sprocket_shaft(context.requirement, *context.parts.motor);
}

KeyLoad key_load(const Context& c) {
  const parts::FrontSprocketFamily& front = *c.parts.front;
  const auto& shaft = front_sprocket_shaft(c);
  KeyLoad key;
  key.torque = front_sprocket_torque(c.requirement, c.torque.peak);
  key.shear_limit = kShearShare * front.key_strength / kKeyFactor;
  key.bearing_limit = front.key_strength / kKeyFactor;
  if (!front.bore && !shaft) {
    key.missing = "front_sprockets.bore";
  } else if (!front.key && !(shaft && shaft->key)) {
    key.missing = "front_sprockets.key";
  } else {
    key.width = front.key ? *front.key : *shaft->key;
  }
  if (key.missing) return key;
  if (key.width == 0) {
    key.shear = key.bearing = 0;
    return key;
  }
  const double diameter = front.bore ? *front.bore : shaft->diameter;
  const parts::KeySize size = parts::key_of_width(key.width, diameter);
  key.height = size.height;
  if (!front.hub_length) {
    key.missing = "front_sprockets.hub_length";
    return key;
  }
  key.length = model::carrying_key_length(*front.hub_length, shaft ? shaft->length.value_or(0) : 0,
                                          diameter);
  const double force = model::tangential_force(key.torque, diameter);
  key.shear = model::key_shear_stress(force, key.width, key.length);
  key.bearing = model::key_bearing_stress(force, size.bearing_height(), key.length);
  return key;
}

SprocketNumbers sprocket_numbers(const Context& c) {
  const parts::FrontSprocketFamily& front = *c.parts.front;
  const parts::ChainFormat chain = parts::chain_format(*c.parts.chain);
  const auto size_of = [&](const std::string& size, int teeth) {
    const parts::ChainFormat cut = parts::chain_format(size).value_or(chain);
    return model::sprocket_size(cut.pitch, cut.roller_diameter, cut.inner_width, teeth);
  };
  SprocketNumbers n;
  n.pitch = chain.pitch;
  n.roller_diameter = chain.roller_diameter > 0 ? chain.roller_diameter : model::kNone;
  n.front = size_of(front.size, c.parts.front_teeth);
  n.rear = size_of(c.parts.rear->size, c.parts.rear_teeth);
  n.largest_bore = parts::largest_bore(chain.pitch, c.parts.front_teeth);
  n.bore = front.bore.value_or(model::kNone);
  n.hub_diameter = front.hub_diameter.value_or(model::kNone);
  n.hub_length = front.hub_length.value_or(model::kNone);
  n.key = key_load(c);
  if (front.set_screws) {
    n.set_screw_size = front.set_screws->size;
    n.set_screws = front.set_screws->count;
    n.set_screw_torque = set_screw_torque(c);
  }
  return n;
}

std::span<const Rule> hub_rules() { return kRules; }

}  // namespace sprocketry::rules
