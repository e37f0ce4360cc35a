#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {

void read_chain_line(Reader& bike, Bike& result) {
  namespace rule = limits::bike;
  auto line = bike.optional_map("chain_line", "`chain_line` of the bike",
                                "{wheel_face: 60 mm, shaft_face: 62 mm}");
  if (!line) return;
  const auto wheel = line->quantity("wheel_face", rule::kAcross);
  const auto shaft = line->quantity("shaft_face", rule::kAcross);
  const double spacer = line->optional_quantity("rear_spacer", rule::kSpacer).value_or(0.0);
  if (!line->has("rear_spacer")) line->record_default("rear_spacer", "0 mm", "none is there");
  line->finish();
  if (wheel && shaft) result.chain_line = model::ChainLine{*wheel, *shaft, spacer};
}

}  // namespace sprocketry::spec
