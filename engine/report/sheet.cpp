#include "report/sheet.hpp"

#include "report/cautions.hpp"
#include "report/display.hpp"

namespace sprocketry::report {
namespace {

Section design_section(const search::Sheet& sheet) {
  const search::Design& d = sheet.design;
  Section s;
  s.title = "The design";
  s.columns = {{"slot", false}, {"part", false}};
  s.rows = {
      {"motor", d.parts.motor->id},
      {"controller", d.parts.controller->id},
      {"pack", d.parts.pack->id + ": " + rounded(d.parts.pack->model.nominal_voltage, 1) +
                   " V nominal, " + rounded(d.parts.pack->model.full_voltage, 1) +
                   " V at full charge"},
      {"charger", d.parts.charger ? d.parts.charger->id : "none"},
      {"chain", d.parts.chain->id},
      {"front sprocket", d.parts.front->id + ", " + std::to_string(d.parts.front_teeth) + " teeth"},
      {"rear sprocket", d.parts.rear->id + ", " + std::to_string(d.parts.rear_teeth) + " teeth"}};
  for (const parts::Extra* extra : d.extras) s.rows.push_back({"extra", extra->id});
  return s;
}

Section findings_section(const search::Sheet& sheet, const spec::Job& job) {
  Section s;
  s.title = "Look at these first";
  const search::Design& d = sheet.design;
  if (d.outside_choose)
    s.remarks.push_back("Caution: the pick is " + std::string(search::kNotInChoose) + ".");
  for (const rules::Row& row : d.rows) {
    if (row.unchecked || row.holds) continue;
    const bool rejects = row.kind == rules::Kind::kReject;
    s.remarks.push_back((rejects ? "DO NOT BUILD: " : "Caution: ") +
                        row_text(row, job.requirement));
  }
  std::string missing;
  for (const rules::Row& row : d.rows) {
    if (row.unchecked) missing += (missing.empty() ? "" : "; ") + row_text(row, job.requirement);
  }
  if (!missing.empty()) s.remarks.push_back("Not checked: " + missing + ".");
  if (s.remarks.empty()) s.text = {"Every rule holds, and none was left unchecked."};
  return s;
}

Section caution_section(const search::Sheet& sheet, const spec::Requirement& requirement) {
  Section s;
  s.title = "Before you build";
  for (std::string& caution : cautions(requirement)) s.remarks.push_back(std::move(caution));
  s.remarks.emplace_back(
      "Cells cannot be switched off: work on one half of the pack at a time, cover what is not "
      "being worked on, never work alone.");
  s.remarks.emplace_back(
      sheet.design.parts.pack->chemistry == "lead_acid"
          ? "Lead-acid cells give off gas that explodes while they are charged: air the room, no "
            "flame or spark, goggles against the acid."
          : "Charge lithium cells neither below 0 degC nor unattended indoors, and only with the "
            "management board that belongs to them.");
  s.remarks.emplace_back(
      "Fit a main contactor that opens with the key and a kill switch that the rider reaches "
      "without letting go of the bar.");
  s.remarks.emplace_back(
      "Brakes, tyres, springs and the plate must stand the new mass: have them judged before the "
      "first ride on a road.");
  return s;
}

Section spin_section(const search::Sheet& sheet) {
  const double volts = sheet.wiring.full_voltage;
  Section s;
  s.title = "Before the first spin";
  // Sentences run over several lines.
  // NOLINTBEGIN(bugprone-suspicious-missing-comma)
  s.steps = {
      "Key off, contactor open: no voltage between either battery cable and the frame, and the "
      "pack "
      "reads between its resting voltages below.",
      "Fuse at the pack, rated for direct current of at least " + rounded(volts, 0) +
          " V; every lug tight, nothing can chafe, both battery cables as short as they go.",
      "Plus and minus at the controller are not swapped: measure before the last lug goes on.",
      "Settings typed in and read back: battery current, motor current, both low-voltage "
      "thresholds, motor speed.",
      "Rear wheel off the ground on a stand that cannot tip, chain guard on, nobody beside or "
      "behind the wheel, loose sleeves and hair away.",
      "Throttle closed when the key is turned: the wheel does not move. Kill switch opens the "
      "contactor.",
      "Open the throttle a little: the wheel turns forwards. Then full: compare motor speed and "
      "current with what stands below.",
      "Switch off, wait until the controller's capacitors are empty (below 5 V at its terminals), "
      "then feel motor, controller and lugs: warm is fine, hot is not."};
  // NOLINTEND(bugprone-suspicious-missing-comma)
  return s;
}

Section assumed_section(const search::Sheet& sheet, const spec::Job& job) {
  Section s;
  s.title = "Assumed because not stated";
  const auto defaults = defaults_in_use(job, std::span(&sheet.design.parts, 1));
  if (defaults.empty()) {
    s.text = {"Nothing."};
    return s;
  }
  s.columns = {{"key", false}, {"value", false}, {"source", false}};
  for (const parts::Default& entry : defaults) {
    s.rows.push_back({entry.key, entry.value, std::string(entry.source)});
  }
  return s;
}

}  // namespace

std::string sheet_title(const search::Sheet& sheet, const spec::Job& job) {
  const std::string& title = job.requirement.title;
  return title.empty() ? rules::design_id(sheet.design.parts) : title;
}

std::vector<Section> sheet_sections(const search::Sheet& sheet, const spec::Job& job) {
  std::vector<Section> all = {design_section(sheet), findings_section(sheet, job),
                              caution_section(sheet, job.requirement), order_section(sheet, job)};
  for (Section& section : drive_sections(sheet, job)) all.push_back(std::move(section));
  for (Section& section : electrical_sections(sheet, job)) all.push_back(std::move(section));
  all.push_back(spin_section(sheet));
  all.push_back(expectation_section(sheet, job));
  all.push_back(pack_day_section(sheet, job));
  all.push_back(assumed_section(sheet, job));
  return all;
}

}  // namespace sprocketry::report
