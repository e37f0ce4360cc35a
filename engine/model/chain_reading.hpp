#pragma once

#include <optional>
#include <vector>

#include "model/chain.hpp"

namespace sprocketry::model {

// Two sprockets of a chain drive. Lengths in m.
struct SprocketPair {
  double pitch = 0;
  double roller_diameter = 0;  // 0: not known
  int front_teeth = 0;
  int rear_teeth = 0;
};

// What a loop that is pulled tight round both sprockets lies on.
enum class Around {
  kTips,      // bare teeth, from tip to tip: corners on the outside diameters
  kRoots,     // the bottoms of the tooth gaps: circles of pitch diameter less roller diameter
  kPitchLine  // the pins of a chain that lies on the sprockets: what the chain itself measures
};

// Length in m of such a loop at a centre distance in m: two tangents and two arcs. NaN when one
// circle lies inside the other, or for kRoots without a roller diameter.
double loop_length(const SprocketPair& sprockets, Around around, double centre_distance);

// Its inverse: centre distance in m; nothing for a loop that is too short for any.
std::optional<double> centre_of_loop(const SprocketPair& sprockets, Around around, double length);

// What makes a reading doubtful.
enum class Doubt {
  kTipsTouch,   // nearer than half the sum of the outside diameters: cannot be
  kFewPitches,  // fewer than 20 pitches from shaft to axle
  kManyPitches  // more than 80
};

// Handbooks want 30 to 50 pitches, 20 for pulsating load, 80 at most (from memory).
inline constexpr double kFewestPitches = 20;
inline constexpr double kMostPitches = 80;

// A measurement read as a chain drive.
struct ChainReading {
  std::optional<double> centre_distance;  // m; nothing: no drive measures that
  double links = 0;                       // exact, a fraction for most distances; NaN without one
  // The same at both ends of what the measurement may be off; NaN without a centre distance.
  double fewest_links = 0;
  double most_links = 0;
  std::vector<Doubt> doubts;     // empty: plausible
  std::vector<ChainFit> nearby;  // even counts within 2.5 links, with the centre distance of each
};

// What a careful person's tape may be off, in m; common practice, no source.
inline constexpr double kLoopError = 5e-3;
inline constexpr double kCentreError = 2e-3;

// Readings of a loop round both sprockets (m), of a centre distance (m), of the count of links of a
// chain that is known to be right. A loop over the tips is uncertain also by the outside diameters
// that ISO 606 allows, d + 1.25 p - d1 at most and d + p (1 - 1.6/N) - d1 at least (d pitch
// diameter, d1 roller; from memory), where the roller is known.
ChainReading read_loop(const SprocketPair& sprockets, Around around, double length);
ChainReading read_centre(const SprocketPair& sprockets, double centre_distance);
ChainReading read_count(const SprocketPair& sprockets, int links);

}  // namespace sprocketry::model
