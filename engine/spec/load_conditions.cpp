#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::conditions;

// The map under `conditions`, or an empty one, so that defaults are recorded in one way.
Reader conditions_reader(Reader& root, const document::Node& empty) {
  if (auto stated =
          root.optional_map("conditions", "`conditions`", "{air: 20 degC, headwind: 10 km/h}"))
    return *stated;
  return {empty, root.mark(), "conditions", "`conditions`", root.findings()};
}

// One of the two may be a default, which has no place of its own.
void check_states_of_charge(Reader& reader, const Conditions& conditions) {
  constexpr std::string_view kUsual = "state_of_charge";
  constexpr std::string_view kLow = "low_state_of_charge";
  if (reader.has(kUsual) && reader.has(kLow)) {
    reader.check_ascending(kLow, conditions.low_state_of_charge, kUsual, conditions.state_of_charge,
                           "the low state is the emptier one");
    return;
  }
  if (conditions.low_state_of_charge <= conditions.state_of_charge) return;
  const auto percent = [](double share) { return parts::number_text(100 * share) + " %"; };
  const bool low_is_stated = reader.has(kLow);
  reader.error(low_is_stated ? kLow : kUsual,
               "`state_of_charge`, " + percent(conditions.state_of_charge) +
                   (low_is_stated ? " if not given" : "") + ", is below `low_state_of_charge`, " +
                   percent(conditions.low_state_of_charge) + (low_is_stated ? "" : " if not given"),
               "the low state is the emptier one; give both");
}

model::CellState read_pack_state(Reader& conditions) {
  document::Node empty;
  empty.kind = document::NodeKind::kMap;
  const std::string what = "`conditions.pack`";
  auto stated = conditions.optional_map("pack", what, "{temperature: 5 degC, health: 90 %}");
  if (conditions.has("pack") && !stated) return {};
  Reader reader =
      stated ? *stated
             : Reader(empty, conditions.mark(), "conditions.pack", what, conditions.findings());
  model::CellState state;
  state.temperature =
      reader.quantity_or("temperature", rule::kPackTemperature, "25 degC",
                         "what data sheets are true for; common practice, no source");
  state.health = reader.quantity_or("health", rule::kHealth, "100 %", "a new pack");
  reader.finish();
  return state;
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
  result.pack = read_pack_state(reader);
  check_states_of_charge(reader, result);
  reader.finish();
}

}  // namespace sprocketry::spec
