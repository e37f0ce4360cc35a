#include "model/guard_outline.hpp"

#include <gtest/gtest.h>

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <random>

#include "model/chain.hpp"
#include "model/constants.hpp"

// Against Boost.Geometry's convex hull of the circles as polygons of many corners.

namespace sprocketry::model {
namespace {

namespace geometry = boost::geometry;
using Corner = geometry::model::d2::point_xy<double>;
using Polygon = geometry::model::polygon<Corner, false>;

Polygon hull_of_circles(double front, double rear, double least, double most) {
  constexpr int kCorners = 20000;
  geometry::model::multi_point<Corner> corners;
  for (int i = 0; i < kCorners; ++i) {
    const double angle = 2 * kPi * i / kCorners;
    const double x = std::cos(angle);
    const double y = std::sin(angle);
    geometry::append(corners, Corner(front * x, front * y));
    for (const double at : {least, most}) {
      geometry::append(corners, Corner(at + rear * x, rear * y));
    }
  }
  Polygon hull;
  geometry::convex_hull(corners, hull);
  return hull;
}

void expect_closed_and_smooth(const std::vector<OutlinePiece>& outline) {
  const auto direction = [](const OutlinePiece& p, bool at_end) {
    if (!p.arc) return std::atan2(p.to.y - p.from.y, p.to.x - p.from.x);
    return (at_end ? p.end_angle : p.start_angle) + 0.5 * kPi;
  };
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const OutlinePiece& a = outline[i];
    const OutlinePiece& b = outline[(i + 1) % outline.size()];
    EXPECT_NEAR(a.to.x, b.from.x, 1e-12);
    EXPECT_NEAR(a.to.y, b.from.y, 1e-12);
    EXPECT_NEAR(std::remainder(direction(a, true) - direction(b, false), 2 * kPi), 0, 1e-6);
  }
}

TEST(DriveOutline, IsTheHullOfItsCircles) {
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> share(0, 1);
  for (int round = 0; round < 60; ++round) {
    const double front = 0.02 + 0.1 * share(random);
    const double rear = 0.02 + 0.18 * share(random);
    const double least = std::abs(front - rear) + 0.01 + 0.6 * share(random);
    const double most = least + (round % 5 == 0 ? 0.0 : 0.06 * share(random));
    const auto outline = drive_outline(front, rear, least, most);
    expect_closed_and_smooth(outline);
    const Polygon hull = hull_of_circles(front, rear, least, most);
    EXPECT_NEAR(outline_area(outline) / geometry::area(hull), 1, 1e-6);
    EXPECT_NEAR(outline_length(outline) / static_cast<double>(geometry::perimeter(hull)), 1, 1e-6);
  }
}

// Two equal circles: a stadium.
TEST(DriveOutline, OfEqualCirclesIsTwoHalvesAndTwoStraights) {
  const auto outline = drive_outline(0.1, 0.1, 0.5, 0.5);
  EXPECT_NEAR(outline_length(outline), 2 * 0.5 + 2 * kPi * 0.1, 1e-12);
  EXPECT_NEAR(outline_area(outline), 0.5 * 0.2 + kPi * 0.01, 1e-12);
}

// With the pitch circles as radii and one axle position the outline is the chain's own path, its
// arcs counted in teeth.
TEST(DriveOutline, OfPitchCirclesIsTheChainsPath) {
  constexpr double kPitch = 0.0127;
  constexpr double kDistance = 0.58;
  for (const auto& [front, rear] : {std::pair{12, 50}, {11, 72}, {17, 40}, {20, 20}}) {
    double links = 0;
    for (const OutlinePiece& piece :
         drive_outline(0.5 * pitch_diameter(kPitch, front), 0.5 * pitch_diameter(kPitch, rear),
                       kDistance, kDistance)) {
      if (piece.arc) {
        const int teeth = piece.centre.x == 0 ? front : rear;
        links += teeth * (piece.end_angle - piece.start_angle) / (2 * kPi);
      } else {
        links += std::hypot(piece.to.x - piece.from.x, piece.to.y - piece.from.y) / kPitch;
      }
    }
    EXPECT_NEAR(links, chain_length(kPitch, front, rear, kDistance), 1e-9);
  }
}

TEST(DriveOutline, RefusesACircleInsideTheOther) {
  EXPECT_THROW(drive_outline(0.05, 0.3, 0.2, 0.3), std::invalid_argument);
  EXPECT_THROW(drive_outline(0.05, 0.1, 0.3, 0.2), std::invalid_argument);
}

// Everything that turns lies inside by the clearance, wherever the axle stands.
TEST(DriveOutline, KeepsItsClearanceAlongTheTravel) {
  const double front = chain_outer_radius(0.0127, 12);
  const double rear = chain_outer_radius(0.0127, 50);
  const auto outline = drive_outline(front + 0.02, rear + 0.02, 0.56, 0.592);
  for (const OutlinePiece& piece : outline) {
    for (double part = 0; part <= 1; part += 0.05) {
      const double angle = piece.start_angle + part * (piece.end_angle - piece.start_angle);
      const PlanePoint at = piece.arc
                                ? PlanePoint{piece.centre.x + piece.radius * std::cos(angle),
                                             piece.centre.y + piece.radius * std::sin(angle)}
                                : PlanePoint{piece.from.x + part * (piece.to.x - piece.from.x),
                                             piece.from.y + part * (piece.to.y - piece.from.y)};
      EXPECT_GE(std::hypot(at.x, at.y), front + 0.02 - 1e-9);
      for (const double axle : {0.56, 0.5727, 0.592}) {
        EXPECT_GE(std::hypot(at.x - axle, at.y), rear + 0.02 - 1e-9);
      }
    }
  }
}

// ISO 606 (from memory): inner plates of 08A are at most 12.07 mm high, of 10A 15.09, of 12A 18.10.
TEST(ChainOuterRadius, HoldsThePlatesOfTheStandardSizes) {
  for (const auto& [pitch, plate] :
       {std::pair{0.0127, 0.01207}, {0.015875, 0.01509}, {0.01905, 0.0181}}) {
    const double reach = chain_outer_radius(pitch, 30) - 0.5 * pitch_diameter(pitch, 30);
    EXPECT_GE(reach, 0.5 * plate - 1e-5);
    EXPECT_LE(reach, 0.5 * plate + 2e-4);
  }
}

}  // namespace
}  // namespace sprocketry::model
