#include "report/guard_drawing.hpp"

#include <algorithm>

#include "model/chain.hpp"
#include "report/text.hpp"

namespace sprocketry::report {
namespace {

constexpr double kMillimetre = 1e-3;
constexpr double kBar = 0.1;
constexpr double kLine = 7 * kMillimetre;  // from one line of notes to the next

std::string millimetres(double length, int decimals) {
  return rounded(length / kMillimetre, decimals) + " mm";
}

std::vector<std::string> notes(const search::Design& d, const spec::Bike& bike, double clearance) {
  std::vector<std::string> lines = {
      "Full size: the bar must measure 100 mm on paper.",
      "Outline " + millimetres(clearance, 0) + " clear of chain and teeth, axle anywhere from " +
          millimetres(bike.min_centre_distance, 1) + " to " +
          millimetres(bike.max_centre_distance, 1) + " from the shaft.",
      "Chain " + d.parts.chain->size + ", " + std::to_string(d.chain.fit->links) +
          " links, front " + std::to_string(d.parts.front_teeth) + ", rear " +
          std::to_string(d.parts.rear_teeth) + " teeth; shaft to axle " +
          millimetres(d.chain.fit->centre_distance, 1) + " as fitted."};
  if (bike.swing_arm) {
    lines.emplace_back("Suspension travel is not in it: check with the wheel at both ends.");
  }
  lines.emplace_back("Cover both sides of the run; nothing may reach in. Power off to adjust.");
  return lines;
}

void reach(GuardDrawing& g, double x, double y) {
  g.least = {std::min(g.least.x, x), std::min(g.least.y, y)};
  g.most = {std::max(g.most.x, x), std::max(g.most.y, y)};
}

}  // namespace

GuardDrawing guard_drawing(const search::Design& d, const spec::Job& job, double clearance) {
  const spec::Bike& bike = job.requirement.bike;
  const double pitch = d.parts.chain->model.pitch;
  const double fitted = d.chain.fit->centre_distance;
  const double front = model::chain_outer_radius(pitch, d.parts.front_teeth) + clearance;
  const double rear = model::chain_outer_radius(pitch, d.parts.rear_teeth) + clearance;
  // The sprockets' tips must not touch, so the axle stays as far away at least.
  const double least =
      std::max(bike.min_centre_distance,
               model::least_centre_distance(pitch, d.parts.front_teeth, d.parts.rear_teeth));
  GuardDrawing g;
  g.title = "Chain guard, " +
            (job.requirement.title.empty() ? rules::design_id(d.parts) : job.requirement.title);
  g.notes = notes(d, bike, clearance);
  g.outline = model::drive_outline(front, rear, least, bike.max_centre_distance);
  g.teeth = {{{0, 0}, 0.5 * model::outside_diameter(pitch, d.parts.front_teeth)},
             {{fitted, 0}, 0.5 * model::outside_diameter(pitch, d.parts.rear_teeth)}};
  g.centres = {{0, 0}, {fitted, 0}, {least, 0}, {bike.max_centre_distance, 0}};
  const double highest = std::max(front, rear);
  reach(g, -front, highest);
  reach(g, bike.max_centre_distance + rear, -highest);
  g.bar_from = {-front, -highest - 2 * kLine};
  g.bar_to = {-front + kBar, g.bar_from.y};
  // Below the bar the title and the notes.
  reach(g, 0, g.bar_from.y - kLine * static_cast<double>(g.notes.size() + 2));
  return g;
}

}  // namespace sprocketry::report
