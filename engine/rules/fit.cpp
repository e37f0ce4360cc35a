#include <array>

#include "model/constants.hpp"
#include "parts/hub_tables.hpp"
#include "parts/interchange.hpp"
#include "parts/shaft_keys.hpp"
#include "rules/checks.hpp"
#include "rules/front_torque.hpp"
#include "rules/hub.hpp"

namespace sprocketry::rules {
namespace {

using parts::Interchange;

constexpr double kLeastWrap =
    120.0 * model::kPi / 180.0;        // Mott, Machine Elements, 4th ed., p. 295
constexpr double kLargestRatio = 7.0;  // ISO 10823, Mott (from memory)
constexpr double kLeastTeeth = 9;      // smallest stock size (Shigley, from memory)
constexpr double kFewTeeth = 13;       // "keep above 13" of chain makers' selection pages

Finding chain_size(const Context& c, std::size_t) {
  return must_be(parts::interchange(*c.parts.chain, c.parts.front->size) != Interchange::kRefused &&
                 parts::interchange(*c.parts.chain, c.parts.rear->size) != Interchange::kRefused);
}

// A pair that is refused is not also cautioned about.
Finding chain_interchange(const Context& c, std::size_t) {
  return must_be(
      parts::interchange(*c.parts.chain, c.parts.front->size) != Interchange::kNotStandard &&
      parts::interchange(*c.parts.chain, c.parts.rear->size) != Interchange::kNotStandard);
}

// What is wrong with each sprocket of that verdict.
std::string interchange_reasons(const Context& c, Interchange verdict) {
  std::string text;
  const auto add = [&](std::string_view slot, const std::string& size) {
    if (parts::interchange(*c.parts.chain, size) != verdict) return;
    if (!text.empty()) text += "; ";
    text += std::string(slot) + ": " + parts::interchange_reason(*c.parts.chain, size);
  };
  add("front sprocket", c.parts.front->size);
  add("rear sprocket", c.parts.rear->size);
  return text;
}

std::string refused(const Context& c, std::size_t) {
  return interchange_reasons(c, Interchange::kRefused);
}
std::string not_standard(const Context& c, std::size_t) {
  return interchange_reasons(c, Interchange::kNotStandard);
}

Finding front_bore(const Context& c, std::size_t) {
  if (!c.parts.front->bore) return not_given("front_sprockets.bore");
  if (!front_sprocket_shaft(c)) {
    return not_given(c.requirement.bike.primary ? "bike.primary.output_bore" : "motors.shaft");
  }
  return equal(*c.parts.front->bore, front_sprocket_shaft(c)->diameter);
}

std::string bore_differs(const Context& c, std::size_t) {
  return parts::bore_mismatch_text(front_sprocket_shaft(c)->diameter, *c.parts.front->bore);
}

Finding front_key(const Context& c, std::size_t) {
  if (!c.parts.front->key) return not_given("front_sprockets.key");
  if (!front_sprocket_shaft(c) || !front_sprocket_shaft(c)->key) {
    return not_given(c.requirement.bike.primary ? "bike.primary.output_key" : "motors.shaft.key");
  }
  return equal(*c.parts.front->key, *front_sprocket_shaft(c)->key);
}

std::string key_differs(const Context& c, std::size_t) {
  const parts::Shaft& shaft = *front_sprocket_shaft(c);
  return parts::key_mismatch_text(shaft.diameter, *shaft.key, *c.parts.front->key);
}

// A hub with a key may have set screws too; without one nothing else is known to hold it.
Finding set_screw_alone(const Context& c, std::size_t) {
  const parts::FrontSprocketFamily& front = *c.parts.front;
  if (!front.key) return not_given("front_sprockets.key");
  if (*front.key == 0 && !front.set_screws) return not_given("front_sprockets.set_screws");
  return must_be(*front.key > 0);
}

std::string set_screw_reason(const Context&, std::size_t) {
  return "a set screw alone must not carry the torque of a drive: use a keyed hub";
}

Finding largest_bore(const Context& c, std::size_t) {
  if (!c.parts.front->bore) return not_given("front_sprockets.bore");
  const auto largest = parts::largest_bore(c.parts.chain->model.pitch, c.parts.front_teeth);
  // No bore at all is right where not even the smallest key leaves a wall.
  return at_most(*c.parts.front->bore, largest ? largest->bore : 0.0);
}

std::string bore_source(const Context& c, std::size_t) {
  const auto largest = parts::largest_bore(c.parts.chain->model.pitch, c.parts.front_teeth);
  if (!largest) return "no standard key leaves a wall in so small a sprocket";
  return parts::shop_size(largest->bore) + " by " + std::string(largest->source);
}

Finding hub_clearance(const Context& c, std::size_t) {
  if (!c.parts.front->hub_diameter) return not_given("front_sprockets.hub_diameter");
  return at_most(*c.parts.front->hub_diameter,
                 model::largest_hub_diameter(c.parts.chain->model.pitch, c.parts.front_teeth));
}

Finding hub_wall(const Context& c, std::size_t) {
  const parts::FrontSprocketFamily& front = *c.parts.front;
  if (!front.bore) return not_given("front_sprockets.bore");
  if (!front.key) return not_given("front_sprockets.key");
  if (!front.hub_diameter) return not_given("front_sprockets.hub_diameter");
  return at_most(0.5 * *front.bore + 0.5 * *front.key + parts::kKeyWall, 0.5 * *front.hub_diameter);
}

Finding bolt_circle(const Context& c, std::size_t) {
  if (!c.requirement.bike.rear.bolt_circle) return not_given("bike.rear_sprocket.bolt_circle");
  if (!c.parts.rear->bolt_circle) return not_given("rear_sprockets.bolt_circle");
  return equal(*c.parts.rear->bolt_circle, *c.requirement.bike.rear.bolt_circle);
}

Finding bolts(const Context& c, std::size_t) {
  if (!c.requirement.bike.rear.bolts) return not_given("bike.rear_sprocket.bolts");
  if (!c.parts.rear->bolts) return not_given("rear_sprockets.bolts");
  return equal(*c.parts.rear->bolts, *c.requirement.bike.rear.bolts);
}

Finding rear_diameter(const Context& c, std::size_t) {
  if (!c.requirement.bike.rear.max_diameter) return not_given("bike.rear_sprocket.max_diameter");
  return at_most(model::outside_diameter(c.parts.chain->model.pitch, c.parts.rear_teeth),
                 *c.requirement.bike.rear.max_diameter);
}

// The end of the travel that is nearer counts: a frame that measures otherwise may pass either.
Finding chain_length(const Context& c, std::size_t) {
  const double centre = c.chain.fit ? c.chain.fit->centre_distance : model::kNone;
  const spec::Bike& bike = c.requirement.bike;
  if (centre - bike.min_centre_distance < bike.max_centre_distance - centre) {
    return at_least(centre, bike.min_centre_distance);
  }
  return at_most(centre, bike.max_centre_distance);
}

Finding wrap(const Context& c, std::size_t) { return at_least(c.chain.wrap, kLeastWrap); }

Finding ratio(const Context& c, std::size_t) { return at_most(c.chain.reduction, kLargestRatio); }

Finding teeth(const Context& c, std::size_t) { return at_least(c.parts.front_teeth, kLeastTeeth); }

Finding few_teeth(const Context& c, std::size_t) {
  return at_least(c.parts.front_teeth, kFewTeeth);
}

Finding hunting(const Context& c, std::size_t) {
  return must_be(c.chain.fit && c.chain.fit->links % c.parts.front_teeth != 0);
}

using slot::kDrive;
using slot::kFront;
using slot::kMotor;
constexpr Stage kStage = Stage::kFit;

constexpr const char* kCarrier = "the motor's shaft, or the output shaft of bike.primary";

constexpr std::array kRules = {
    Rule{"chain size", kStage, Kind::kReject, Unit::kNone, kDrive,
         "pitch, roller and tooth by ASME B29.1 and ISO 10190",
         "chain and sprockets share pitch and roller, and the teeth enter the chain", one_item,
         chain_size, nullptr, false, refused},
    Rule{"chain interchange", kStage, Kind::kCaution, Unit::kNone, kDrive,
         "pitch, roller and inner width all the same: general chain-drive practice",
         "both sprockets are the standard's own for this chain", one_item, chain_interchange,
         nullptr, false, not_standard},
    Rule{"front bore", kStage, Kind::kReject, Unit::kMillimetre, kMotor | kFront, kCarrier,
         "the front sprocket's bore is the diameter of the shaft that carries it: the motor's, or "
         "the output of bike.primary",
         one_item, front_bore, nullptr, false, bore_differs},
    Rule{"front key", kStage, Kind::kReject, Unit::kMillimetre, kMotor | kFront, kCarrier,
         "the front sprocket's keyway is as wide as the key of the shaft that carries it", one_item,
         front_key, nullptr, false, key_differs},
    Rule{"set screw alone", kStage, Kind::kCaution, Unit::kNone, kDrive,
         "common practice, no source", "a key, not set screws, carries the torque of the hub",
         one_item, set_screw_alone, nullptr, false, set_screw_reason},
    Rule{"hub clearance", kStage, Kind::kReject, Unit::kMillimetre, kDrive,
         "ASME B29.1 largest hub (from memory)", "the hub fits under the chain", one_item,
         hub_clearance},
    Rule{"hub wall", kStage, Kind::kReject, Unit::kMillimetre, kDrive,
         "1.5 mm (0.06 in) over the key, after Machinery's Handbook",
         "bore and key leave enough wall in the hub", one_item, hub_wall},
    Rule{"largest bore", kStage, Kind::kCaution, Unit::kMillimetre, kDrive,
         "Machinery's Handbook, 31st ed., Table 10; else 1.5 mm of wall over the key",
         "the bore is no larger than handbooks allow for so many teeth", one_item, largest_bore,
         nullptr, false, bore_source},
    Rule{"rear bolt circle", kStage, Kind::kReject, Unit::kMillimetre, kDrive, "the rear wheel",
         "the rear sprocket's bolt circle is the wheel's", one_item, bolt_circle},
    Rule{"rear bolts", kStage, Kind::kReject, Unit::kNone, kDrive, "the rear wheel",
         "the rear sprocket has the wheel's number of bolts", one_item, bolts},
    Rule{"rear diameter", kStage, Kind::kReject, Unit::kMillimetre, kDrive, "the frame",
         "the rear sprocket clears the frame", one_item, rear_diameter},
    Rule{"chain length", kStage, Kind::kReject, Unit::kMillimetre, kDrive, "the adjuster's travel",
         "a chain of whole (even) links ends inside the adjuster's travel", one_item, chain_length},
    Rule{"chain wrap", kStage, Kind::kReject, Unit::kDegree, kDrive,
         "Mott, Machine Elements, 4th ed.", "the chain wraps far enough round the small sprocket",
         one_item, wrap},
    Rule{"ratio", kStage, Kind::kReject, Unit::kNone, kDrive,
         "7 to 1 in one stage: ISO 10823 (from memory)", "one stage does not reduce too much",
         one_item, ratio},
    Rule{"teeth", kStage, Kind::kReject, Unit::kNone, kDrive, "smallest stock size (from memory)",
         "the front sprocket has enough teeth to run at all", one_item, teeth},
    Rule{"few teeth", kStage, Kind::kCaution, Unit::kNone, kDrive, "chain makers' selection pages",
         "a front sprocket with few teeth runs rough and wears the chain", one_item, few_teeth},
    Rule{"even wear", kStage, Kind::kCaution, Unit::kNone, kDrive,
         "hunting tooth: general chain-drive practice",
         "the same tooth does not meet the same links on every turn of the chain", one_item,
         hunting},
};

}  // namespace

std::span<const Rule> fit_rules() { return kRules; }

}  // namespace sprocketry::rules
