#pragma once

namespace sprocketry::model {

// Geometry of a sprocket for roller chain (ASME B29.1). Lengths in m, tooth counts of 3 and more.

// Pitch diameter: p/sin(pi/N).
double pitch_diameter(double pitch, int teeth);

// Outside diameter: p (0.6 + cot(pi/N)) (from memory); what is turned, not the tip of ISO 606.
double outside_diameter(double pitch, int teeth);

// Root (bottom) diameter: pitch diameter less the roller's.
double root_diameter(double pitch, double roller_diameter, int teeth);

// Caliper diameter, what a caliper reads across the bottoms of the gaps: the root diameter of an
// even count; of an odd one PD cos(pi/(2 N)) - d over the two most nearly opposite gaps.
double caliper_diameter(double pitch, double roller_diameter, int teeth);

// Largest hub or groove diameter under the chain: p (cot(pi/N) - 1) - 0.76 mm (0.030 in) (from
// memory).
double largest_hub_diameter(double pitch, int teeth);

// Nominal thickness of a single-strand tooth for a chain of that inner width: 0.93 W - 0.15 mm
// (0.006 in) (from memory; equals the published tables for 25 to 80).
double tooth_thickness(double inner_width);

// The same together, for a reader; NaN where the roller or the width is not known (0).
struct SprocketSize {
  int teeth = 0;
  double pitch_diameter = 0;
  double outside_diameter = 0;
  double root_diameter = 0;
  double caliper_diameter = 0;
  double largest_hub_diameter = 0;
  double tooth_thickness = 0;
};
SprocketSize sprocket_size(double pitch, double roller_diameter, double inner_width, int teeth);

}  // namespace sprocketry::model
