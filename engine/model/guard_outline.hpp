#pragma once

#include <vector>

namespace sprocketry::model {

// A point of the drive's plane in m: x from the front sprocket's shaft towards the rear axle, y up.
struct PlanePoint {
  double x = 0;
  double y = 0;
};

// A piece of an outline from one point to the next: a straight line, or an arc that is run
// counter-clockwise about its centre.
struct OutlinePiece {
  PlanePoint from;
  PlanePoint to;
  bool arc = false;
  PlanePoint centre;
  double radius = 0;       // m
  double start_angle = 0;  // rad, from the x axis; the arc's end is greater
  double end_angle = 0;
};

// Radius in m that a chain reaches where it lies on a sprocket: half the pitch diameter and half
// the plates' height, or the teeth's outside radius where that is more. Plates are at most 0.95 of
// the pitch high (ISO 606, from memory: 12.07 mm of 12.7). `pitch` in m.
double chain_outer_radius(double pitch, int teeth);

// The closed outline round a chain drive, counter-clockwise: the hull of the front circle and of
// the rear one with its axle anywhere from `least` to `most` (m from the front shaft, least <=
// most). Radii in m. The outline of a guard takes the radii the chain reaches with the clearance
// added. It has lines where the hull is straight and arcs where it is round; an arc or a line
// without length is left out. Throws std::invalid_argument when one circle lies inside the other.
std::vector<OutlinePiece> drive_outline(double front_radius, double rear_radius, double least,
                                        double most);

// Length round an outline in m and the area inside it in m2 (Green's theorem).
double outline_length(const std::vector<OutlinePiece>& outline);
double outline_area(const std::vector<OutlinePiece>& outline);

}  // namespace sprocketry::model
