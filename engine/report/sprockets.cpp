#include "report/sprockets.hpp"

#include <cmath>

#include "parts/shaft_keys.hpp"
#include "report/text.hpp"

namespace sprocketry::report {
namespace {

using rules::KeyLoad;
using rules::SprocketNumbers;
using search::Design;

constexpr double kMillimetre = 1000.0;  // per m
constexpr double kMegapascal = 1e-6;    // per Pa

void write_sprocket(JsonWriter& json, const char* name, const model::SprocketSize& s) {
  json.key(name);
  json.begin_object(Layout::kLine);
  json.member("teeth", s.teeth);
  json.member("pitch_diameter_mm", s.pitch_diameter * kMillimetre);
  json.member("outside_diameter_mm", s.outside_diameter * kMillimetre);
  json.member("root_diameter_mm", s.root_diameter * kMillimetre);
  json.member("caliper_diameter_mm", s.caliper_diameter * kMillimetre);
  json.member("tooth_thickness_mm", s.tooth_thickness * kMillimetre);
  json.end_object();
}

void write_key(JsonWriter& json, const KeyLoad& key) {
  json.member("key_mm", key.width * kMillimetre);
  json.member("key_height_mm", key.height * kMillimetre);
  json.member("key_length_mm", key.length * kMillimetre);
  json.member("peak_torque_n_m", key.torque);
  json.member("key_shear_mpa", key.shear * kMegapascal);
  json.member("key_shear_limit_mpa", key.shear_limit * kMegapascal);
  json.member("key_bearing_mpa", key.bearing * kMegapascal);
  json.member("key_bearing_limit_mpa", key.bearing_limit * kMegapascal);
}

void write_hub(JsonWriter& json, const SprocketNumbers& n) {
  json.key("hub");
  json.begin_object();
  json.member("largest_hub_mm", n.front.largest_hub_diameter * kMillimetre);
  json.member("largest_bore_mm",
              n.largest_bore ? n.largest_bore->bore * kMillimetre : model::kNone);
  json.key("largest_bore_source");
  if (n.largest_bore) {
    json.value(n.largest_bore->source);
  } else {
    json.null();
  }
  json.member("bore_mm", n.bore * kMillimetre);
  json.member("diameter_mm", n.hub_diameter * kMillimetre);
  json.member("length_mm", n.hub_length * kMillimetre);
  write_key(json, n.key);
  json.member("set_screws", n.set_screws);
  json.member("set_screw_mm", n.set_screw_size * kMillimetre);
  json.member("set_screw_holds_n_m", n.set_screw_torque);
  json.end_object();
}

std::string millimetres(double length) { return rounded(length * kMillimetre, 2) + " mm"; }

// A trade size with its millimetres: "7/8 in (22.23 mm)", "22 mm".
std::string size_text(double length) {
  const std::string name = parts::shop_size(length);
  return parts::is_inch_size(length) ? name + " (" + millimetres(length) + ")" : name;
}

void line(std::ostream& out, std::string_view word, const std::string& text) {
  const std::string rest = wrapped(text, std::string(17, ' '));
  out << "  " << word << std::string(15 - word.size(), ' ') << rest.substr(17);
}

std::string teeth_text(const model::SprocketSize& s) {
  std::string text = std::to_string(s.teeth) + " teeth: pitch diameter " +
                     millimetres(s.pitch_diameter) + ", outside " + millimetres(s.outside_diameter);
  if (!std::isnan(s.root_diameter)) {
    text +=
        ", root " + millimetres(s.root_diameter) + ", caliper " + millimetres(s.caliper_diameter);
  }
  if (!std::isnan(s.tooth_thickness))
    text += ", tooth " + millimetres(s.tooth_thickness) + " thick";
  return text;
}

std::string hub_text(const SprocketNumbers& n) {
  std::string text = "at most " + millimetres(n.front.largest_hub_diameter);
  if (!std::isnan(n.hub_diameter)) text += " (this one " + millimetres(n.hub_diameter) + ")";
  if (n.largest_bore) {
    text += ", bore at most " + size_text(n.largest_bore->bore) + " by " +
            std::string(n.largest_bore->source);
  }
  if (!std::isnan(n.bore)) text += " (this one " + size_text(n.bore) + ")";
  return text;
}

std::string key_text(const KeyLoad& key) {
  const auto stress = [](double value) { return rounded(value * kMegapascal, 0) + " MPa"; };
  return size_text(key.width) + " wide, " + size_text(key.height) + " high, " +
         millimetres(key.length) + " of it carry; at " + rounded(key.torque, 1) + " N m shear " +
         stress(key.shear) + " of " + stress(key.shear_limit) + ", bearing " + stress(key.bearing) +
         " of " + stress(key.bearing_limit);
}

}  // namespace

SprocketNumbers sprocket_numbers(const Design& d, const spec::Requirement& requirement) {
  return rules::sprocket_numbers({requirement, d.parts, d.chain, d.metrics, d.torque});
}

void write_sprockets(JsonWriter& json, const Design& d, const spec::Requirement& requirement) {
  const SprocketNumbers n = sprocket_numbers(d, requirement);
  json.key("sprockets");
  json.begin_object();
  json.member("pitch_mm", n.pitch * kMillimetre);
  json.member("roller_mm", n.roller_diameter * kMillimetre);
  write_sprocket(json, "front", n.front);
  write_sprocket(json, "rear", n.rear);
  json.end_object();
  write_hub(json, n);
}

void write_sprocket_work(std::ostream& out, const Design& d, const spec::Requirement& requirement) {
  const SprocketNumbers n = sprocket_numbers(d, requirement);
  line(out, "front teeth", teeth_text(n.front));
  line(out, "rear teeth", teeth_text(n.rear));
  line(out, "hub", hub_text(n));
  if (!std::isnan(n.key.length)) line(out, "key", key_text(n.key));
}

}  // namespace sprocketry::report
