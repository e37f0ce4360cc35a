#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace sprocketry::parts {

// What a tyre's size marking says.
struct TyreSize {
  double width = 0;         // m, nominal section width
  double aspect_ratio = 0;  // section height over width
  double rim_diameter = 0;  // m, rim code x 25.4 mm exactly
};

// Reads a motorcycle tyre's size marking as it stands on the sidewall. Metric: "90/90-18",
// "120/70 R17", "120/70ZR17" (width in mm, aspect ratio in %). Inch: "3.00-18", "2 3/4-18",
// "3.25H19"; the aspect ratio is 100 % unless given ("4.25/85-18"; the low-profile inch sizes,
// which some makers build at 90 %, are read at 100 % too). What may follow the rim code is accepted
// and ignored: M/C, TL, TT, REINF, ply rating, load index and speed symbol ("58W", "(58W)"). Range:
// width 40 to 400 mm or 1 to 10 in, aspect ratio 20 to 110 %, rim code 4 to 30. For anything else a
// message that says what is wrong and gives an example. Rules: UN R75 (from memory), a tyre maker's
// page on sidewall markings (seen).
tl::expected<TyreSize, std::string> parse_tyre_size(std::string_view marking);

}  // namespace sprocketry::parts
