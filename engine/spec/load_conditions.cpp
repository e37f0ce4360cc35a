#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::conditions;

// The map under `conditions`, or an empty one, so that defaults are recorded in one way.
Reader conditions_reader(Reader& root, const document::Node& empty) {
  if (auto stated = root.optional_map("conditions", "`conditions`")) return *stated;
  return {empty, root.mark(), "conditions", "`conditions`", root.findings()};
}

}  // namespace

void read_conditions(Reader& root, Requirement& requirement) {
  document::Node empty;
  empty.kind = document::NodeKind::kMap;
  Reader reader = conditions_reader(root, empty);
  Conditions& result = requirement.conditions;
  result.air_temperature = reader.quantity_or("air", rule::kAir, "20 degC", kCommonPractice);
  result.altitude = reader.quantity_or("altitude", rule::kAltitude, "0 m", kCommonPractice);
  result.headwind = reader.quantity_or("headwind", rule::kHeadwind, "0 km/h", kCommonPractice);
  result.grip = reader.number_or(
      "grip", rule::kGrip, "0.9",
      "Bosch Automotive Handbook: 0.85 new tyre on dry asphalt; Cossalter: 0.8 to 1.0 (from "
      "memory)");
  result.state_of_charge =
      reader.quantity_or("state_of_charge", rule::kStateOfCharge, "80 %", kCommonPractice);
  result.low_state_of_charge =
      reader.quantity_or("low_state_of_charge", rule::kStateOfCharge, "20 %", kCommonPractice);
  result.winding_temperature =
      reader.quantity_or("winding", rule::kWinding, "75 degC", kCommonPractice);
  if (reader.has("state_of_charge") && reader.has("low_state_of_charge")) {
    reader.check_ascending("low_state_of_charge", result.low_state_of_charge, "state_of_charge",
                           result.state_of_charge, "the low state is the emptier one");
  }
  reader.finish();
}

}  // namespace sprocketry::spec
