#include <cmath>

#include "model/constants.hpp"
#include "parts/shaft_keys.hpp"
#include "report/chain_run.hpp"
#include "report/sheet.hpp"
#include "rules/hub.hpp"

namespace sprocketry::report {
namespace {

using Rows = std::vector<std::vector<std::string>>;
constexpr double kMillimetre = 1000.0;
constexpr double kDegree = 180.0 / model::kPi;

// A length in mm with its decimals; "not stated" for none.
std::string millimetres(double length, int decimals = 1) {
  return std::isnan(length) ? "not stated" : rounded(length * kMillimetre, decimals) + " mm";
}

// A trade size with its millimetres.
std::string size_text(double length) {
  if (std::isnan(length)) return "not stated";
  if (length == 0) return "none";
  const std::string name = parts::shop_size(length);
  return parts::is_inch_size(length) ? name + " (" + millimetres(length, 2) + ")" : name;
}

void teeth_rows(Rows& rows, const std::string& which, const model::SprocketSize& s) {
  rows.push_back({which + " sprocket", std::to_string(s.teeth) + " teeth"});
  rows.push_back({which + " pitch diameter", millimetres(s.pitch_diameter, 2)});
  rows.push_back({which + " outside diameter", millimetres(s.outside_diameter, 1)});
  if (!std::isnan(s.caliper_diameter)) {
    rows.push_back({which + " over the tooth roots (caliper)", millimetres(s.caliper_diameter, 2)});
  }
  if (!std::isnan(s.tooth_thickness)) {
    rows.push_back({which + " tooth thickness", millimetres(s.tooth_thickness, 2)});
  }
}

void length_rows(Rows& rows, const search::Design& d, const spec::Bike& bike) {
  if (!d.chain.fit) {
    rows.push_back({"chain length", "does not end inside the adjuster's travel"});
    return;
  }
  for (const model::ChainFit& fit : d.chain_fits) {
    const bool chosen = fit.links == d.chain.fit->links;
    std::string text =
        std::to_string(fit.links) + " pitches, shaft to axle " + millimetres(fit.centre_distance) +
        ": " + millimetres(fit.centre_distance - bike.min_centre_distance) +
        " behind the front end of the adjuster's travel, " +
        millimetres(bike.max_centre_distance - fit.centre_distance) + " left for wear";
    if (fit.links % 2 != 0) text += ", with a half link";
    rows.push_back({chosen ? "chain length" : "would fit too", text});
  }
}

void cut_rows(Rows& rows, const search::Design& d) {
  if (!d.chain_order) return;
  const model::ChainOrder& order = *d.chain_order;
  rows.push_back(
      {"chain length laid straight", millimetres(order.links * d.parts.chain->model.pitch, 0)});
  std::string cut = "count " + std::to_string(order.rollers) +
                    " rollers, cut there; both ends inner links; close with ";
  cut += order.connecting_links == 1 ? "a connecting link"
                                     : std::to_string(order.connecting_links) + " connecting links";
  if (order.half_links > 0) cut += " and a half link";
  rows.push_back({"where to cut", cut});
  if (order.boxes > 0) rows.push_back({"left over", std::to_string(order.offcut) + " links"});
}

Section chain_section(const search::Sheet& sheet, const spec::Job& job,
                      const rules::SprocketNumbers& n) {
  const search::Design& d = sheet.design;
  const spec::Bike& bike = job.requirement.bike;
  Section s;
  s.title = "Chain and sprockets";
  s.columns = {{"what", false}, {"figure", false}};
  s.rows.push_back({"chain", d.parts.chain->id + ", size " + d.parts.chain->size + ", pitch " +
                                 millimetres(n.pitch, 3) + ", roller " +
                                 millimetres(n.roller_diameter, 2)});
  length_rows(s.rows, d, bike);
  cut_rows(s.rows, d);
  teeth_rows(s.rows, "front", n.front);
  teeth_rows(s.rows, "rear", n.rear);
  if (d.parts.rear->bolt_circle) {
    s.rows.push_back({"rear bolt circle",
                      millimetres(*d.parts.rear->bolt_circle) + ", " +
                          (d.parts.rear->bolts ? std::to_string(*d.parts.rear->bolts) : "?") +
                          " bolts"});
  }
  s.rows.push_back({"reduction by the chain", rounded(d.chain.reduction, 3) + " to 1"});
  if (bike.primary) {
    s.rows.push_back({"first stage", rounded(bike.primary->ratio, 3) + " to 1"});
    s.rows.push_back({"reduction in all", rounded(d.chain.total_reduction, 3) + " to 1"});
  }
  return s;
}

Section hub_section(const search::Sheet& sheet, const rules::SprocketNumbers& n) {
  const search::Design& d = sheet.design;
  Section s;
  s.title = "Hub and key of the front sprocket";
  s.columns = {{"what", false}, {"figure", false}};
  s.rows.push_back({"bore", size_text(n.bore)});
  if (n.largest_bore) {
    s.rows.push_back({"largest bore for this tooth count", size_text(n.largest_bore->bore)});
  }
  s.rows.push_back({"hub diameter", millimetres(n.hub_diameter)});
  s.rows.push_back({"largest hub under the chain", millimetres(n.front.largest_hub_diameter)});
  s.rows.push_back({"hub length", millimetres(n.hub_length)});
  s.rows.push_back({"key, wide and high", size_text(n.key.width) + ", " + size_text(n.key.height)});
  if (!std::isnan(n.key.length)) {
    s.rows.push_back({"key length that carries", millimetres(n.key.length)});
    s.rows.push_back({"peak torque at the hub", rounded(n.key.torque, 1) + " N m"});
  }
  if (!d.parts.front->bore) s.remarks.push_back("The bore is not stated: measure it.");
  s.remarks.push_back(
      "The key carries the torque; set screws only keep the hub from walking along the shaft.");
  s.remarks.push_back(
      "Weld the plain sprocket to its hub only when bore and teeth run true to each other, by "
      "somebody licensed to weld; heat takes the hardness out of teeth near the weld.");
  return s;
}

std::string slack_step(const search::Design& d, const spec::Bike& bike) {
  if (d.chain.slack) {
    return "With the bike on its wheels set " + millimetres(d.chain.slack->play_rest, 0) +
           " of free play, up and down in all, in the middle of the lower run; then check that the "
           "chain is never tight with the arm " +
           rounded(std::abs(d.chain.slack->tightest_angle) * kDegree, 0) + " degrees " +
           (d.chain.slack->tightest_angle < 0 ? "above" : "below") + " horizontal, where " +
           millimetres(d.chain.slack->play_tightest, 0) + " must be left.";
  }
  // Roller chain practice: 4 to 6 % of the span in all (maintenance guides of chain makers).
  const double span = d.chain.fit ? d.chain.fit->centre_distance : bike.min_centre_distance;
  return "Set " + rounded(0.04 * span * kMillimetre, 0) + " to " +
         rounded(0.06 * span * kMillimetre, 0) +
         " mm of free play, up and down in all, in the middle of the lower run, with wheel axle, "
         "swing-arm pivot and front sprocket in one line, where the chain is tightest.";
}

std::vector<std::string> alignment_steps(const search::Sheet& sheet, const spec::Job& job) {
  const search::Design& d = sheet.design;
  // Sentences run over several lines.
  // NOLINTBEGIN(bugprone-suspicious-missing-comma)
  return {
      "Lay a straight edge over the side of the rear sprocket: it must lie flat on the side of the "
      "front one too, at both ends of the adjuster's travel. Shim until it does.",
      "Turn the wheel by hand a whole turn: the rear sprocket runs true, the chain enters both "
      "sprockets without climbing a tooth.",
      "Set the axle the same on both sides; shaft to axle should come to " +
          (d.chain.fit ? millimetres(d.chain.fit->centre_distance) : std::string("what fits")) +
          " less what the slack takes.",
      slack_step(d, job.requirement.bike),
      "Look at the connecting link: the clip's closed end points the way the chain runs, or the "
      "pins are riveted. Look again after the first ride.",
      "Set the slack again after the first " +
          std::string(job.requirement.units.distance == "mi" ? "30 mi" : "50 km") +
          ": a new chain beds in."};
  // NOLINTEND(bugprone-suspicious-missing-comma)
}

Section tension_section(const search::Sheet& sheet, const spec::Job& job) {
  const search::Design& d = sheet.design;
  Section s;
  s.title = "Alignment and tension";
  s.text = {"With the power disconnected. Fingers go into the run only while nothing can turn."};
  const std::string across = chain_line_text(d, job.requirement);
  if (!across.empty()) s.steps.push_back("Chain line: " + across + ".");
  for (std::string& step : alignment_steps(sheet, job)) s.steps.push_back(std::move(step));
  s.remarks = {
      "Out of line by at most 1 mm: chain makers' installation guides (from memory).",
      "Replace the chain, and look at the sprockets, when it has grown by " +
          std::string(d.parts.rear_teeth > 67 ? rounded(200.0 / d.parts.rear_teeth, 1) : "3") +
          " %: chain makers' limit for this tooth count; motorcycle workshops use 1 to 2 %."};
  return s;
}

}  // namespace

std::vector<Section> drive_sections(const search::Sheet& sheet, const spec::Job& job) {
  const search::Design& d = sheet.design;
  const rules::SprocketNumbers n =
      rules::sprocket_numbers({job.requirement, d.parts, d.chain, d.metrics, d.torque});
  return {chain_section(sheet, job, n), hub_section(sheet, n), tension_section(sheet, job)};
}

}  // namespace sprocketry::report
