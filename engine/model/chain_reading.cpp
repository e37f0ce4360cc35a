#include "model/chain_reading.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

// What a loop follows on one sprocket: a radius, and the length of one tooth's share of the way
// round.
struct Ring {
  double radius = 0;
  double per_tooth = 0;
  int teeth = 0;
};

Ring corners(double diameter, int teeth) {
  return {0.5 * diameter, diameter * std::sin(kPi / teeth), teeth};
}

Ring circle(double diameter, int teeth) { return {0.5 * diameter, kPi * diameter / teeth, teeth}; }

struct Loop {
  Ring small, large;

  Loop(Ring front, Ring rear)
      : small(front.radius < rear.radius ? front : rear),
        large(front.radius < rear.radius ? rear : front) {}

  [[nodiscard]] double offset() const { return large.radius - small.radius; }
  [[nodiscard]] double at(double centre) const {
    const double turn = std::asin(offset() / centre) / kPi;  // half turns
    return 2.0 * std::sqrt((centre - offset()) * (centre + offset())) +
           small.per_tooth * small.teeth * (0.5 - turn) +
           large.per_tooth * large.teeth * (0.5 + turn);
  }
  // By halving, to the last digit: the length rises with the distance.
  [[nodiscard]] std::optional<double> centre(double length) const {
    double near = std::max(offset(), 1e-9);  // sprockets of one size have no offset
    double far = near + length;
    if (!(length > at(near)) || !std::isfinite(length)) return std::nullopt;
    constexpr int kHalvings = 200;
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = 0.5 * (near + far);
      (at(middle) < length ? near : far) = middle;
    }
    return near;
  }
};

Loop loop_of(const SprocketPair& s, Around around) {
  const auto ring = [&](int teeth) {
    switch (around) {
      case Around::kTips:
        return corners(outside_diameter(s.pitch, teeth), teeth);
      case Around::kRoots:
        return circle(s.roller_diameter > 0 ? pitch_diameter(s.pitch, teeth) - s.roller_diameter
                                            : std::numeric_limits<double>::quiet_NaN(),
                      teeth);
      case Around::kPitchLine:
        break;
    }
    return corners(pitch_diameter(s.pitch, teeth), teeth);
  };
  return {ring(s.front_teeth), ring(s.rear_teeth)};
}

// The loops over the smallest and the largest tips that ISO 606 allows.
Loop lowest_tips(const SprocketPair& s) {
  const auto ring = [&](int teeth) {
    return corners(
        pitch_diameter(s.pitch, teeth) + s.pitch * (1.0 - 1.6 / teeth) - s.roller_diameter, teeth);
  };
  return {ring(s.front_teeth), ring(s.rear_teeth)};
}
Loop highest_tips(const SprocketPair& s) {
  const auto ring = [&](int teeth) {
    return corners(pitch_diameter(s.pitch, teeth) + 1.25 * s.pitch - s.roller_diameter, teeth);
  };
  return {ring(s.front_teeth), ring(s.rear_teeth)};
}

double links_at(const SprocketPair& s, std::optional<double> centre) {
  constexpr double kNothing = std::numeric_limits<double>::quiet_NaN();
  return centre ? chain_length(s.pitch, s.front_teeth, s.rear_teeth, *centre) : kNothing;
}

std::vector<Doubt> doubts(const SprocketPair& s, std::optional<double> centre) {
  if (!centre || *centre < least_centre_distance(s.pitch, s.front_teeth, s.rear_teeth)) {
    return {Doubt::kTipsTouch};
  }
  if (*centre < kFewestPitches * s.pitch) return {Doubt::kFewPitches};
  if (*centre > kMostPitches * s.pitch) return {Doubt::kManyPitches};
  return {};
}

std::vector<ChainFit> even_counts(const SprocketPair& s, double links) {
  constexpr double kNear = 2.5;
  std::vector<ChainFit> list;
  if (!std::isfinite(links)) return list;
  for (int even = 2 * static_cast<int>(std::ceil((links - kNear) / 2)); even <= links + kNear;
       even += 2) {
    const auto centre = centre_distance(s.pitch, s.front_teeth, s.rear_teeth, even);
    if (centre) list.push_back({even, *centre});
  }
  return list;
}

ChainReading reading(const SprocketPair& s, std::optional<double> centre, double links,
                     double fewest, double most) {
  return {centre, links, fewest, most, doubts(s, centre), even_counts(s, links)};
}

}  // namespace

double loop_length(const SprocketPair& sprockets, Around around, double centre_distance) {
  return loop_of(sprockets, around).at(centre_distance);
}

std::optional<double> centre_of_loop(const SprocketPair& sprockets, Around around, double length) {
  return loop_of(sprockets, around).centre(length);
}

ChainReading read_loop(const SprocketPair& s, Around around, double length) {
  const auto centre = centre_of_loop(s, around, length);
  const bool spread = around == Around::kTips && s.roller_diameter > 0;
  const Loop large = spread ? highest_tips(s) : loop_of(s, around);
  const Loop small = spread ? lowest_tips(s) : loop_of(s, around);
  return reading(s, centre, links_at(s, centre), links_at(s, large.centre(length - kLoopError)),
                 links_at(s, small.centre(length + kLoopError)));
}

ChainReading read_centre(const SprocketPair& s, double centre_distance) {
  return reading(s, centre_distance, links_at(s, centre_distance),
                 links_at(s, centre_distance - kCentreError),
                 links_at(s, centre_distance + kCentreError));
}

ChainReading read_count(const SprocketPair& s, int links) {
  return reading(s, centre_distance(s.pitch, s.front_teeth, s.rear_teeth, links), links, links,
                 links);
}

}  // namespace sprocketry::model
