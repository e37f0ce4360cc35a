#include "parts/shaft_keys.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "parts/values.hpp"

namespace sprocketry::parts {
namespace {

constexpr double kInch = 25.4e-3;
constexpr double kSame = 1e-6;  // m; inch and millimetre spellings of one length

constexpr KeySize square(double over, double to, double width, std::string_view source) {
  return {over * kInch, to * kInch, width * kInch, width * kInch, 0.5 * width * kInch, source};
}
constexpr KeySize metric(double over, double to, double width, double height, double depth,
                         std::string_view source) {
  return {over * 1e-3, to * 1e-3, width * 1e-3, height * 1e-3, depth * 1e-3, source};
}

// Seen from 5/16 to 2 1/4 in; the two largest from memory.
constexpr std::string_view kAnsi = "ANSI B17.1-1967";
constexpr KeySize kInchKeys[] = {
    square(0.3125, 0.4375, 0.09375, kAnsi), square(0.4375, 0.5625, 0.125, kAnsi),
    square(0.5625, 0.875, 0.1875, kAnsi),   square(0.875, 1.25, 0.25, kAnsi),
    square(1.25, 1.375, 0.3125, kAnsi),     square(1.375, 1.75, 0.375, kAnsi),
    square(1.75, 2.25, 0.5, kAnsi),         square(2.25, 2.75, 0.625, kAnsi),
    square(2.75, 3.25, 0.75, kAnsi),
};

// Seen from 12 to 44 mm (the seat of 12 x 8 from memory); the others from memory.
constexpr std::string_view kDin = "DIN 6885-1";
constexpr KeySize kMetricKeys[] = {
    metric(8, 10, 3, 3, 1.8, kDin),    metric(10, 12, 4, 4, 2.5, kDin),
    metric(12, 17, 5, 5, 3.0, kDin),   metric(17, 22, 6, 6, 3.5, kDin),
    metric(22, 30, 8, 7, 4.0, kDin),   metric(30, 38, 10, 8, 5.0, kDin),
    metric(38, 44, 12, 8, 5.0, kDin),  metric(44, 50, 14, 9, 5.5, kDin),
    metric(50, 58, 16, 10, 6.0, kDin),
};

constexpr ShaftEnd inch_end(std::string_view frame, double diameter, double key, double length) {
  return {frame, diameter * kInch, key * kInch, length * kInch,
          "NEMA MG 1 by public charts (seen)"};
}
constexpr ShaftEnd metric_end(std::string_view frame, double diameter, double key, double length) {
  return {frame, diameter * 1e-3, key * 1e-3, length * 1e-3,
          "IEC 60072-1 (diameter and key seen, length from memory)"};
}

// Lengths of 213T and 254T were not seen.
constexpr ShaftEnd kShaftEnds[] = {
    inch_end("NEMA 42", 0.375, 0, 1.125),
    inch_end("NEMA 48", 0.5, 0, 1.5),
    inch_end("NEMA 56", 0.625, 0.1875, 1.875),
    inch_end("NEMA 66", 0.75, 0.1875, 2.25),
    inch_end("NEMA 143T, 145T", 0.875, 0.1875, 2.25),
    inch_end("NEMA 182T, 184T", 1.125, 0.25, 2.75),
    inch_end("NEMA 213T, 215T", 1.375, 0.3125, 0),
    inch_end("NEMA 254T, 256T", 1.625, 0.375, 0),
    metric_end("IEC 71", 14, 5, 30),
    metric_end("IEC 80", 19, 6, 40),
    metric_end("IEC 90", 24, 8, 50),
    metric_end("IEC 100, 112", 28, 8, 60),
    metric_end("IEC 132", 38, 10, 80),
};

const KeySize* find_width(std::span<const KeySize> keys, double width) {
  const auto found = std::ranges::find_if(
      keys, [width](const KeySize& key) { return std::abs(key.width - width) <= kSame; });
  return found == keys.end() ? nullptr : &*found;
}

// "a 7/8 in", "an 8 mm".
std::string a_size(double length) {
  const std::string size = shop_size(length);
  const bool vowel = size.starts_with('8') || size.starts_with("11 ") || size.starts_with("11/") ||
                     size.starts_with("18 ");
  return (vowel ? "an " : "a ") + size;
}

std::string key_text(double width) { return width > 0 ? a_size(width) + " key" : "no key"; }

std::string millimetres(double length) {
  return number_text(std::round(length * 1e5) / 100) + " mm";
}

// "7/8 in (22.23 mm)"; a metric size once.
std::string both_sizes(double length) {
  return shop_size(length) + (is_inch_size(length) ? " (" + millimetres(length) + ")" : "");
}

}  // namespace

double KeySize::bearing_height() const { return std::min(shaft_depth, height - shaft_depth); }

std::span<const KeySize> inch_keys() { return kInchKeys; }
std::span<const KeySize> metric_keys() { return kMetricKeys; }
std::span<const ShaftEnd> shaft_ends() { return kShaftEnds; }

bool is_inch_size(double diameter) {
  constexpr double kTwoDecimals = 5.1e-6;  // m, half a hundredth of a millimetre
  constexpr double kStep = kInch / 32;
  return diameter > kTwoDecimals &&
         std::abs(diameter - kStep * std::round(diameter / kStep)) <= kTwoDecimals;
}

const KeySize* standard_key(double shaft_diameter) {
  const auto keys = is_inch_size(shaft_diameter) ? inch_keys() : metric_keys();
  const double diameter = shaft_diameter - 5.1e-6;  // 22.23 mm is still 7/8 in
  const auto found =
      std::ranges::find_if(keys, [&](const KeySize& key) { return diameter <= key.to; });
  if (found == keys.end() || shaft_diameter <= found->over) return nullptr;
  return &*found;
}

KeySize key_of_width(double width, double shaft_diameter) {
  const bool inch = is_inch_size(shaft_diameter);
  for (const auto keys : {inch ? inch_keys() : metric_keys(), inch ? metric_keys() : inch_keys()}) {
    if (const KeySize* key = find_width(keys, width)) return *key;
  }
  return {0, 0, width, width, 0.5 * width, "taken as square"};
}

std::string shop_size(double length) {
  if (!is_inch_size(length)) return millimetres(length);
  const int parts = static_cast<int>(std::lround(32 * length / kInch));
  const int whole = parts / 32;
  const int rest = parts % 32;
  if (rest == 0) return std::to_string(whole) + " in";
  const int common = std::gcd(rest, 32);
  return (whole > 0 ? std::to_string(whole) + ' ' : "") + std::to_string(rest / common) + '/' +
         std::to_string(32 / common) + " in";
}

std::string standard_key_text(double shaft_diameter) {
  const KeySize* key = standard_key(shaft_diameter);
  if (key == nullptr) return "";
  std::string text = a_size(shaft_diameter) + " shaft takes " + key_text(key->width) + " (" +
                     std::string(key->source);
  for (const ShaftEnd& end : kShaftEnds) {
    const bool same = std::abs(end.diameter - shaft_diameter) <= kSame;
    if (same && std::abs(end.key - key->width) <= kSame) text += "; " + std::string(end.frame);
  }
  return text + ")";
}

std::string bore_mismatch_text(double shaft_diameter, double bore) {
  return "the shaft is " + both_sizes(shaft_diameter) + ", the bore " + both_sizes(bore) +
         (bore < shaft_diameter ? ": it does not go on" : ": it sits loose and off centre");
}

std::string key_mismatch_text(double shaft_diameter, double shaft_key, double hub_key) {
  const KeySize* key = standard_key(shaft_diameter);
  const bool standard = key != nullptr && std::abs(key->width - shaft_key) <= kSame;
  const std::string hub = "this hub has " + (hub_key > 0 ? shop_size(hub_key) : "no keyway");
  if (standard) {
    return a_size(shaft_diameter) + " shaft takes " + key_text(shaft_key) + "; " + hub;
  }
  std::string text = "this motor's " + shop_size(shaft_diameter) + " shaft has " +
                     key_text(shaft_key) + ", " + hub;
  if (key != nullptr) text += "; " + standard_key_text(shaft_diameter);
  return text;
}

}  // namespace sprocketry::parts
