#pragma once

#include <optional>
#include <vector>

#include "model/sprocket.hpp"

namespace sprocketry::model {

// A roller chain. Lengths in m.
struct Chain {
  double pitch = 0;
  double pin_diameter = 0;
  double mass_per_length = 0;   // kg/m
  double tensile_strength = 0;  // N, least breaking load
  double fixed_loss = 0;        // 0..1, seals and lubrication
  double friction = 0;          // coefficient of friction, pin in bushing
};

// Height of the inner plates over the pitch: 08A 12.07/12.7, 10A 15.09/15.875 (ISO 606, from
// memory).
inline constexpr double kPlateHeight = 0.95;

// Relative drop of chain speed from its highest value, 1 - cos(pi/N).
double chordal_speed_variation(int teeth);

// Efficiency 0..1: 1 - fixed loss - friction pin/(2 p) 2 pi (1/N1 + 1/N2), the articulation of the
// tight side on each sprocket (line contact, k = 1; no centrifugal term).
double chain_efficiency(const Chain& chain, int front_teeth, int rear_teeth);

// Wrap angle on the smaller sprocket in rad: pi - 2 asin(|D2 - D1|/(2C)). Lengths in m. NaN when
// one pitch circle lies inside the other.
double wrap_angle(double pitch, int front_teeth, int rear_teeth, double centre_distance);

// Exact chain length in pitches: two tangents and two arcs on the pitch circles, each arc counted
// in teeth. `centre_distance` in m. NaN when one pitch circle lies inside the other.
double chain_length(double pitch, int front_teeth, int rear_teeth, double centre_distance);

// Centre distance in m of a chain of so many links; nothing when the chain is too short for the two
// sprockets. Inverse of chain_length() by Newton's method to the last digit that double resolves.
std::optional<double> centre_distance(double pitch, int front_teeth, int rear_teeth, double links);

// Least centre distance in m: the sprockets' tips touch at half the sum of the outside diameters
// (from memory).
double least_centre_distance(double pitch, int front_teeth, int rear_teeth);

// A chain that fits the adjuster.
struct ChainFit {
  int links = 0;
  double centre_distance = 0;  // m, of the chain pulled straight
};

// Every allowed link count whose centre distance lies within [min, max] (m), both ends included, in
// ascending order; empty when there is none. Even counts only unless half links are allowed. Where
// the tips would touch nothing fits, so a lower limit that is nearer counts as that distance.
std::vector<ChainFit> chain_fits(double pitch, int front_teeth, int rear_teeth, double min_distance,
                                 double max_distance, bool half_links);

// The first of chain_fits(), which leaves most of the travel to wear; nothing when there is none.
std::optional<ChainFit> fit_chain(double pitch, int front_teeth, int rear_teeth,
                                  double min_distance, double max_distance, bool half_links);

// Elongation (0.01 is 1 %) at which a chain of so many links is tight at `max_distance` (m): its
// path there over its links, less 1. The sprockets keep their pitch. Negative for a chain that is
// too long for the travel.
double elongation_taken_up(double pitch, int front_teeth, int rear_teeth, int links,
                           double max_distance);

// Share of a chain's strength that is left: 0.65 for an odd count, whose half link (a one-pitch
// offset link) is weaker (chain maker's catalogue, seen).
double strength_share(int links);

}  // namespace sprocketry::model
