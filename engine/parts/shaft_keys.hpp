#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace sprocketry::parts {

// A parallel key and its seats, for shafts over one diameter up to and including another. All in m.
struct KeySize {
  double over = 0;
  double to = 0;
  double width = 0;
  double height = 0;
  double shaft_depth = 0;  // of the seat, at its side
  std::string_view source;

  // What bears on shaft and hub: the lesser of the key's heights in the two.
  [[nodiscard]] double bearing_height() const;
};

// Square keys for shafts in inches, ANSI B17.1-1967, and keys for metric shafts, DIN 6885-1; each
// in ascending order of diameter.
std::span<const KeySize> inch_keys();
std::span<const KeySize> metric_keys();

// True for a diameter (m) in whole 32nds of an inch, rounded to 0.01 mm at most. 1/32 in is 127/160
// mm, so no size in tenths of a millimetre comes nearer than 0.006 mm unless it is a multiple of
// 12.7 mm.
bool is_inch_size(double diameter);

// The standard key of a shaft, of inches or millimetres by is_inch_size(); nullptr outside the
// tables.
const KeySize* standard_key(double shaft_diameter);

// A key of that width (m) in a shaft of that diameter: height and seat of the table that the shaft
// belongs to, or of the other one; square with half of it in the shaft where no table has the
// width.
KeySize key_of_width(double width, double shaft_diameter);

// A motor shaft by the frame standards. Lengths in m.
struct ShaftEnd {
  std::string_view frame;  // "NEMA 56"
  double diameter = 0;
  double key = 0;     // width, 0: flat
  double length = 0;  // of the extension, 0: not known
  std::string_view source;
};
std::span<const ShaftEnd> shaft_ends();

// "7/8 in", "1 1/8 in" or "22 mm": a diameter or key as the trade names it.
std::string shop_size(double length);

// What the standard says of a shaft's key, with its source: "a 7/8 in shaft takes a 3/16 in key
// (ANSI B17.1-1967; NEMA 143T, 145T)". "" outside the tables.
std::string standard_key_text(double shaft_diameter);

// The motor's shaft end against the hub's bore and key (widths, 0: none; NaN: not known), for a
// combination in which they differ.
std::string bore_mismatch_text(double shaft_diameter, double bore);
std::string key_mismatch_text(double shaft_diameter, double shaft_key, double hub_key);

}  // namespace sprocketry::parts
