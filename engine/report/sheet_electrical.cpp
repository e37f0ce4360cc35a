#include <cmath>

#include "model/constants.hpp"
#include "report/sheet.hpp"

namespace sprocketry::report {
namespace {

std::string amperes(double current, int decimals = 0) { return rounded(current, decimals) + " A"; }
std::string volts(double voltage) { return rounded(voltage, 1) + " V"; }
std::string rpm(double speed) { return rounded(speed * 30.0 / model::kPi, 0) + " rpm"; }

std::string motor_current_text(const search::Design& d) {
  const double current = d.settings.motor_current;
  if (d.parts.motor->model.kind != model::MotorKind::kBrushless) return amperes(current);
  return amperes(current) +
         " direct-current equivalent = " + amperes(current * std::sqrt(2.0 / 3.0)) +
         " rms = " + amperes(current * 2.0 / std::sqrt(3.0)) + " peak of a phase";
}

Section settings_section(const search::Sheet& sheet) {
  const search::Design& d = sheet.design;
  const model::Pack& pack = d.parts.pack->model;
  Section s;
  s.title = "Settings to type in";
  s.text = {"Every figure on this sheet is true only with these settings."};
  s.columns = {{"setting", false}, {"value", false}};
  s.rows = {{"battery current, at most", amperes(d.settings.battery_current)},
            {"motor current, at most", motor_current_text(d)},
            {"low voltage: begin to hold back", volts(d.settings.low_voltage * kRollBack)},
            {"low voltage: stop", volts(d.settings.low_voltage)},
            {"motor speed, at most", rpm(d.parts.motor->model.max_speed)},
            {"charger: end voltage", volts(pack.full_voltage)}};
  if (d.parts.charger) {
    s.rows.push_back({"charger: current, at most", amperes(d.parts.charger->current, 1)});
  }
  if (!d.parts.controller->model.settable) {
    s.remarks.push_back("This controller cannot be set: the currents are its own ratings.");
  }
  s.remarks.push_back(
      "Holding back from 5 % above the stop is common practice without a source; the range on this "
      "sheet ends at the stop.");
  return s;
}

void cable_rows(std::vector<std::vector<std::string>>& rows, const std::string& which,
                const model::Cable* cable, double current, double drop, const std::string& way,
                const std::string& none) {
  if (cable == nullptr) {
    rows.push_back({which, none});
    return;
  }
  rows.push_back({which, std::string(cable->name) + " (" + rounded(cable->area * 1e6, 1) +
                             " mm2), carries " + amperes(cable->ampacity) + ", " +
                             amperes(cable->ampacity * model::kWarmSpace) + " in a hot space"});
  rows.push_back({"voltage lost in it",
                  rounded(drop, 2) + " V per metre of " + way + " at " + amperes(current)});
}

void precharge_rows(std::vector<std::vector<std::string>>& rows, const search::Wiring& w) {
  if (!w.precharge) {
    rows.push_back(
        {"precharge resistor",
         "state the controller's capacitance in the parts file to have it worked out; charge "
         "through a resistor all the same, and close the contactor only when a meter "
         "across it reads less than " +
             volts(0.1 * w.full_voltage)});
    return;
  }
  const model::Precharge& p = *w.precharge;
  rows.push_back({"precharge resistor",
                  rounded(p.resistance, p.resistance < 10 ? 1 : 0) + " ohm, takes " +
                      rounded(p.energy, 1) + " J in a pulse that begins with " +
                      rounded(p.peak_power, 0) + " W and " + amperes(p.peak_current, 1)});
  rows.push_back({"precharge time", rounded(p.time, 1) + " s (five time constants), then " +
                                        volts(p.left) + " are left across the contactor"});
}

std::string motor_lead_text(const search::Wiring& w, bool brushless) {
  const std::string kind = brushless ? " rms" : "";
  std::string text = "The motor leads are sized for " + amperes(w.motor_current) + kind +
                     ", what motor and controller stand for ever";
  if (!std::isfinite(w.motor_peak_duration)) return text + ".";
  return text + ", and then for " + amperes(w.motor_peak) + kind + " for " +
         rounded(w.motor_peak_duration, 0) +
         " s, which takes them to no more than 105 degC in air of 50 degC (IEC 60949, all heat "
         "kept in the copper).";
}

Section ratings_section(const search::Sheet& sheet) {
  const search::Wiring& w = sheet.wiring;
  const bool brushless = sheet.design.parts.motor->model.kind == model::MotorKind::kBrushless;
  Section s;
  s.title = "Electrical ratings";
  s.columns = {{"what", false}, {"rating", false}};
  s.rows.push_back({"main fuse, at the pack",
                    std::isnan(w.fuse)
                        ? "no single fuse of the usual ratings: more than 1250 A would be needed"
                        : amperes(w.fuse) + ", for at least " + volts(w.full_voltage) +
                              " direct current, able to break " +
                              rounded(w.short_circuit / 1000.0, 1) + " kA"});
  cable_rows(s.rows, "battery cable, both conductors", w.battery_cable, w.battery_current,
             w.battery_drop, "the way to the controller, there and back",
             std::isnan(w.fuse) ? "several in parallel, each with its own fuse"
                                : "no single cable of the table carries in a hot space what a fuse "
                                  "of " +
                                      amperes(w.fuse) +
                                      " lets pass: run several in parallel, each with its own "
                                      "fuse");
  cable_rows(s.rows, brushless ? "motor leads, each of three" : "motor cable, both conductors",
             w.motor_cable, w.motor_current, w.motor_drop, "lead",
             "no single cable of the table stands " + amperes(w.motor_peak) +
                 " there: run several of one length in parallel");
  s.rows.push_back({"main contactor", "carries " + amperes(w.battery_current) +
                                          " for ever and breaks it at " + volts(w.full_voltage) +
                                          " direct current"});
  precharge_rows(s.rows, w);
  s.rows.push_back({"insulation of every cable", "at least " + volts(w.full_voltage)});
  s.remarks = {
      "Cable sizes: " + std::string(model::kCableSource) +
          ". Other tables, for other insulation or for cable in a conduit, ask for much more "
          "copper "
          "at the same current: never mix two tables.",
      "The fuse is the smallest usual rating (IEC 60269-1) of which the set battery current is at "
      "most 80 %, and the cable carries in a hot space what the fuse lets pass. Check peaks on the "
      "fuse's "
      "time-current curve.",
      motor_lead_text(w, brushless)};
  return s;
}

}  // namespace

std::vector<Section> electrical_sections(const search::Sheet& sheet, const spec::Job&) {
  return {settings_section(sheet), ratings_section(sheet)};
}

}  // namespace sprocketry::report
