#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "model/guard_outline.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// Least distance in m that a guard keeps from chain and teeth when nothing else is asked for: room
// for slack, mud and a finger's width of movement. Common practice, no source.
inline constexpr double kGuardClearance = 0.020;

// A circle of a drawing, in m, and what it stands for.
struct GuardCircle {
  model::PlanePoint centre;
  double radius = 0;
};

// A chain guard's outline with what is inside it, at full size. Lengths in m.
struct GuardDrawing {
  std::string title;
  std::vector<std::string> notes;
  std::vector<model::OutlinePiece> outline;
  std::vector<GuardCircle> teeth;          // outside of the sprockets
  std::vector<model::PlanePoint> centres;  // front shaft, axle as fitted, ends of its travel
  model::PlanePoint bar_from, bar_to;      // the check bar, 100 mm
  model::PlanePoint least, most;           // corners of all that is drawn
};

// The guard of a design whose chain fits, for the axle anywhere in the adjuster's travel.
GuardDrawing guard_drawing(const search::Design& design, const spec::Job& job, double clearance);

// The drawing as SVG in mm at 1:1, and as DXF R12 (AC1009) in mm with layers GUARD, TEETH, CENTRES,
// CHECK_BAR and NOTES.
void write_guard_svg(std::ostream& out, const GuardDrawing& drawing);
void write_guard_dxf(std::ostream& out, const GuardDrawing& drawing);

}  // namespace sprocketry::report
