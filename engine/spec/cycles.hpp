#pragma once

#include <span>
#include <string_view>

namespace sprocketry::spec {

// A driving cycle that the program carries. Its file in specs/cycles names the form, the origin of
// the numbers, what they were checked against and what is known from memory only.
struct Cycle {
  std::string_view id;           // "r40-urban"
  std::string_view regulation;   // the document and version that prescribes it
  std::span<const double> time;  // s, from 0 in steps of 1 s
  // m/s, as many as times, linear in between; at rest at both ends. Each is the very double that
  // the unit reader gives for the file's km/h, so that 72 km/h is 20 m/s.
  std::span<const double> speed;
};

// Every cycle that the program carries, ascending by id.
std::span<const Cycle> cycles();

// The cycle of that id (case-sensitive), or nullptr.
const Cycle* find_cycle(std::string_view id);

}  // namespace sprocketry::spec
