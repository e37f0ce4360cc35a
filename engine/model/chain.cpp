#include "model/chain.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

// Pitch radius in pitches.
double pitch_radius(int teeth) { return 0.5 / std::sin(kPi / teeth); }

// Length in pitches over the centre distance in pitches, from the larger sprocket's point of view.
struct LengthLaw {
  double small_teeth, large_teeth, offset;  // offset: difference of the pitch radii, pitches

  LengthLaw(int first, int second)
      : small_teeth(std::min(first, second)),
        large_teeth(std::max(first, second)),
        offset(pitch_radius(std::max(first, second)) - pitch_radius(std::min(first, second))) {}

  [[nodiscard]] double at(double centre) const {
    const double turn = std::asin(offset / centre) / kPi;  // half turns
    return 2.0 * std::sqrt((centre - offset) * (centre + offset)) + small_teeth * (0.5 - turn) +
           large_teeth * (0.5 + turn);
  }

  // dL/dC. Arcs are counted in teeth, not along the pitch circle, so the two terms of the circle's
  // case do not cancel exactly.
  [[nodiscard]] double slope(double centre) const {
    const double tangent = std::sqrt((centre - offset) * (centre + offset));
    return 2.0 * centre / tangent - (large_teeth - small_teeth) * offset / (kPi * centre * tangent);
  }
};

constexpr double kHalfLinkStrength = 0.65;

// Allowed link counts first, first + step, ... last.
struct LinkRange {
  int first = 0, last = -1, step = 2;
  double min_distance = 0;  // m, from which on the tips are clear
};

LinkRange allowed_links(double pitch, int front_teeth, int rear_teeth, double min_distance,
                        double max_distance, bool half_links) {
  LinkRange range;
  range.min_distance =
      std::max(min_distance, least_centre_distance(pitch, front_teeth, rear_teeth));
  if (!(range.min_distance <= max_distance)) return range;
  // A limit that is itself the centre distance of a whole chain counts as inside although its
  // length may come out a rounding error beyond the whole number.
  constexpr double kRounding = 1e-9;  // links
  const double shortest = chain_length(pitch, front_teeth, rear_teeth, range.min_distance);
  const double longest = chain_length(pitch, front_teeth, rear_teeth, max_distance);
  range.step = half_links ? 1 : 2;
  range.first = static_cast<int>(std::ceil((shortest - kRounding) / range.step)) * range.step;
  range.last = static_cast<int>(std::floor((longest + kRounding) / range.step)) * range.step;
  return range;
}

std::optional<ChainFit> fit_of(double pitch, int front_teeth, int rear_teeth, int links,
                               const LinkRange& range, double max_distance) {
  const auto centre = centre_distance(pitch, front_teeth, rear_teeth, links);
  if (!centre) return std::nullopt;
  return ChainFit{links, std::clamp(*centre, range.min_distance, max_distance)};
}

}  // namespace

double chordal_speed_variation(int teeth) { return 1.0 - std::cos(kPi / teeth); }

double chain_efficiency(const Chain& chain, int front_teeth, int rear_teeth) {
  const double articulation =
      chain.friction * (chain.pin_diameter / (2.0 * chain.pitch)) * 2.0 * kPi;
  return 1.0 - chain.fixed_loss - articulation * (1.0 / front_teeth + 1.0 / rear_teeth);
}

double wrap_angle(double pitch, int front_teeth, int rear_teeth, double centre_distance) {
  const double difference =
      std::abs(pitch_diameter(pitch, rear_teeth) - pitch_diameter(pitch, front_teeth));
  return kPi - 2.0 * std::asin(difference / (2.0 * centre_distance));
}

double chain_length(double pitch, int front_teeth, int rear_teeth, double centre_distance) {
  return LengthLaw(front_teeth, rear_teeth).at(centre_distance / pitch);
}

std::optional<double> centre_distance(double pitch, int front_teeth, int rear_teeth, double links) {
  const LengthLaw law(front_teeth, rear_teeth);
  // Start on the far side: with no arcs gained on the large sprocket the chain would reach
  // farthest.
  double centre = 0.5 * (links - 0.5 * (front_teeth + rear_teeth));
  if (!(centre > law.offset)) return std::nullopt;
  constexpr int kMaxSteps = 60;  // quadratic convergence needs about five
  for (int step = 0; step < kMaxSteps; ++step) {
    const double next = centre - (law.at(centre) - links) / law.slope(centre);
    if (!(next > law.offset)) return std::nullopt;
    if (std::abs(next - centre) <= 1e-14 * centre) return next * pitch;
    centre = next;
  }
  return centre * pitch;
}

double least_centre_distance(double pitch, int front_teeth, int rear_teeth) {
  return 0.5 * (outside_diameter(pitch, front_teeth) + outside_diameter(pitch, rear_teeth));
}

std::vector<ChainFit> chain_fits(double pitch, int front_teeth, int rear_teeth, double min_distance,
                                 double max_distance, bool half_links) {
  const LinkRange range =
      allowed_links(pitch, front_teeth, rear_teeth, min_distance, max_distance, half_links);
  std::vector<ChainFit> fits;
  for (int links = range.first; links <= range.last; links += range.step) {
    const auto fit = fit_of(pitch, front_teeth, rear_teeth, links, range, max_distance);
    if (fit) fits.push_back(*fit);
  }
  return fits;
}

std::optional<ChainFit> fit_chain(double pitch, int front_teeth, int rear_teeth,
                                  double min_distance, double max_distance, bool half_links) {
  const LinkRange range =
      allowed_links(pitch, front_teeth, rear_teeth, min_distance, max_distance, half_links);
  if (range.first > range.last) return std::nullopt;
  return fit_of(pitch, front_teeth, rear_teeth, range.first, range, max_distance);
}

double elongation_taken_up(double pitch, int front_teeth, int rear_teeth, int links,
                           double max_distance) {
  return chain_length(pitch, front_teeth, rear_teeth, max_distance) / links - 1.0;
}

double strength_share(int links) { return links % 2 == 0 ? 1.0 : kHalfLinkStrength; }

}  // namespace sprocketry::model
