#include "parts/hub_tables.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "model/sprocket.hpp"
#include "parts/shaft_keys.hpp"

namespace sprocketry::parts {
namespace {

constexpr double kInch = 25.4e-3;
constexpr double kPoundForce = 4.4482216152605;
constexpr double kPoundForceInch = kPoundForce * kInch;

// Largest bores with standard keyway in 32nds of an inch, from 11 teeth on: Machinery's Handbook,
// 31st ed., Table 10, p. 2631 (seen as a page whose columns had run together; the rows were put
// together by their order and by the hub column). One entry of the 3/8 in pitch (14 teeth) is from
// memory.
constexpr std::string_view kTable = "Machinery's Handbook, 31st ed., Table 10";
constexpr int kFirstTeeth = 11;
constexpr std::array kPitch38 = {19, 20, 24, 27, 28};
constexpr std::array kPitch12 = {25, 28, 32, 37, 40, 41, 44, 49, 54, 57, 57, 62, 67, 72, 73};
constexpr std::array kPitch58 = {31, 37, 41, 42, 49, 54, 57, 60, 66, 72, 73, 78, 84, 90, 91};
constexpr std::array kPitch34 = {40, 41, 48, 56, 57, 63};

struct BoreColumn {
  double pitch;  // m
  std::span<const int> bores;
};
constexpr BoreColumn kColumns[] = {{0.375 * kInch, kPitch38},
                                   {0.5 * kInch, kPitch12},
                                   {0.625 * kInch, kPitch58},
                                   {0.75 * kInch, kPitch34}};

std::optional<double> tabulated_bore(double pitch, int teeth) {
  constexpr double kSamePitch = 1e-6;  // m
  for (const BoreColumn& column : kColumns) {
    const int row = teeth - kFirstTeeth;
    if (std::abs(column.pitch - pitch) > kSamePitch || row < 0) continue;
    if (row >= static_cast<int>(column.bores.size())) continue;
    // One rounding, so that a bore stated as such a fraction is the very same number: 1/32 in is
    // 127/160 mm.
    return column.bores[static_cast<std::size_t>(row)] * 127 / 160000.0;
  }
  return std::nullopt;
}

// The key grows with the bore in steps, so the largest bore may lie at the end of a step.
std::optional<double> bore_by_wall(double pitch, int teeth) {
  const double hub = model::largest_hub_diameter(pitch, teeth);
  std::optional<double> largest;
  for (const KeySize& key : inch_keys()) {
    const double bore = std::min(key.to, hub - key.width - 2 * kKeyWall);
    if (bore > key.over) largest = bore;
  }
  return largest;
}

// Shigley, 9th ed., Table 7-4: seating torques seen, holding power from memory. Another public
// table (seen) holds 400 lbf for 1/4 in where this one says 1000; it states another basis.
constexpr SetScrew row(double diameter, double torque, double holding) {
  return {diameter * kInch, torque * kPoundForceInch, holding * kPoundForce};
}
constexpr SetScrew kSetScrews[] = {
    row(0.060, 1.0, 50),    row(0.073, 1.8, 65),    row(0.086, 1.8, 85),    row(0.099, 5, 120),
    row(0.112, 5, 160),     row(0.125, 10, 200),    row(0.138, 10, 250),    row(0.164, 20, 385),
    row(0.190, 36, 540),    row(0.25, 87, 1000),    row(0.3125, 165, 1500), row(0.375, 290, 2000),
    row(0.4375, 430, 2500), row(0.5, 620, 3000),    row(0.5625, 620, 3500), row(0.625, 1325, 4000),
    row(0.75, 2400, 5000),  row(0.875, 5200, 6000), row(1.0, 7200, 7000),
};

}  // namespace

std::optional<LargestBore> largest_bore(double pitch, int teeth) {
  if (const auto bore = tabulated_bore(pitch, teeth)) return LargestBore{*bore, kTable};
  const auto bore = bore_by_wall(pitch, teeth);
  if (!bore) return std::nullopt;
  return LargestBore{*bore, "1.5 mm (0.06 in) of wall over the key in the largest hub"};
}

std::optional<SetScrew> set_screw(double diameter) {
  constexpr double kSame = 1e-6;  // m; inch and millimetre spellings of one thread
  std::optional<SetScrew> found;
  for (const SetScrew& screw : kSetScrews) {
    if (screw.diameter <= diameter + kSame) found = screw;
  }
  return found;
}

std::span<const SetScrew> set_screws() { return kSetScrews; }

}  // namespace sprocketry::parts
