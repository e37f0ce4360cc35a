#pragma once

namespace sprocketry::model {

// Rolling circumference in m of a tyre by its size marking: pi (rim + 2 width aspect), the
// circumference of the design overall diameter D = d + 2 H, H = width x aspect (UN R75 and ISO
// 5751, from memory). `section_width` and `rim_diameter` in m, `aspect_ratio` height over width
// (0.9 for 90/90-18). All positive; no check. Good to +-2.5 %: a loaded tyre rolls a little less,
// and inch sizes are a little larger than their marking. A measured roll-out is better.
double rolling_circumference(double section_width, double aspect_ratio, double rim_diameter);

}  // namespace sprocketry::model
