#include "report/chain_run.hpp"

#include "model/constants.hpp"
#include "report/chain_load.hpp"
#include "report/text.hpp"
#include "rules/chain_line.hpp"

namespace sprocketry::report {
namespace {

using model::ChainFit;
using model::ChainOrder;
using model::SlackSetting;
using search::Design;

constexpr double kMillimetre = 1000.0;  // per m
constexpr double kDegree = 180.0 / model::kPi;

double elongation(const Design& d, const ChainFit& fit, double max_distance) {
  return model::elongation_taken_up(d.parts.chain->model.pitch, d.parts.front_teeth,
                                    d.parts.rear_teeth, fit.links, max_distance);
}

void write_possible(JsonWriter& json, const Design& d, const spec::Bike& bike) {
  json.key("links_possible");
  json.begin_list();
  for (const ChainFit& fit : d.chain_fits) {
    json.begin_object(Layout::kLine);
    json.member("links", fit.links);
    json.member("centre_distance_mm", fit.centre_distance * kMillimetre);
    json.member("from_forward_end_mm",
                (fit.centre_distance - bike.min_centre_distance) * kMillimetre);
    json.member("travel_left_mm", (bike.max_centre_distance - fit.centre_distance) * kMillimetre);
    json.member("elongation_taken_up_percent", 100 * elongation(d, fit, bike.max_centre_distance));
    json.end_object();
  }
  json.end_list();
}

void write_order(JsonWriter& json, const Design& d) {
  json.key("buy");
  if (!d.chain_order) return json.null();
  const ChainOrder& order = *d.chain_order;
  json.begin_object(Layout::kLine);
  json.member("links", order.links);
  json.member("length_mm", order.links * d.parts.chain->model.pitch * kMillimetre);
  json.member("boxes", order.boxes);
  json.member("box_links", d.parts.chain->box_links);
  json.member("offcut_links", order.offcut);
  json.member("rollers_to_count", order.rollers);
  json.member("ends", "inner links");
  json.member("connecting_links", order.connecting_links);
  json.member("half_links", order.half_links);
  json.end_object();
}

rules::LineUp line_up(const Design& d, const spec::Requirement& requirement) {
  return rules::line_up({requirement, d.parts, d.chain, d.metrics, d.torque});
}

void write_line(JsonWriter& json, const Design& d, const spec::Requirement& requirement) {
  json.key("line");
  const auto fit = line_up(d, requirement).fit;
  if (!fit) return json.null();
  json.begin_object(Layout::kLine);
  json.member("rear_teeth_mm", fit->rear_teeth * kMillimetre);
  json.member("front_teeth_at", fit->teeth_outside ? "outer end" : "inner end");
  json.member("shaft_spacer_mm", fit->shaft_spacer * kMillimetre);
  json.member("rear_shift_mm", fit->rear_shift * kMillimetre);
  json.end_object();
}

void write_slack(JsonWriter& json, const Design& d, const spec::Bike& bike) {
  json.key("slack");
  if (!d.chain.slack) return json.null();
  const SlackSetting& s = *d.chain.slack;
  json.begin_object();
  json.member("free_play_rest_mm", s.play_rest * kMillimetre);
  json.member("free_play_droop_mm", s.play_droop * kMillimetre);
  json.member("free_play_bump_mm", s.play_bump * kMillimetre);
  json.member("free_play_tightest_mm", s.play_tightest * kMillimetre);
  json.member("tightest_angle_deg", s.tightest_angle * kDegree);
  json.member("tightest_distance_mm", s.tightest_distance * kMillimetre);
  json.member("rest_distance_mm", s.rest_distance * kMillimetre);
  json.member("rest_from_forward_end_mm",
              (s.rest_distance - bike.min_centre_distance) * kMillimetre);
  json.member("arm_length_mm", s.length * kMillimetre);
  json.member("path_change_mm", s.path_change * kMillimetre);
  json.member("pivot_to_upper_run_mm", s.pivot_to_upper * kMillimetre);
  json.member("pivot_to_lower_run_mm", s.pivot_to_lower * kMillimetre);
  json.end_object();
}

std::string millimetres(double length, int decimals = 0) {
  return rounded(length * kMillimetre, decimals) + " mm";
}

std::string below_horizontal(double angle) {
  const bool above = angle < 0;
  return rounded((above ? -angle : angle) * kDegree, 1) + " deg " + (above ? "above" : "below") +
         " horizontal";
}

void line(std::ostream& out, std::string_view word, const std::string& text) {
  const std::string rest = wrapped(text, std::string(17, ' '));
  out << "  " << word << std::string(15 - word.size(), ' ') << rest.substr(17);
}

void write_order_text(std::ostream& out, const Design& d) {
  const ChainOrder& order = *d.chain_order;
  std::string text = std::to_string(order.links) + " pitches, " +
                     millimetres(order.links * d.parts.chain->model.pitch);
  if (order.boxes > 0) {
    text += ": " + std::to_string(order.boxes) + (order.boxes > 1 ? " boxes of " : " box of ") +
            std::to_string(d.parts.chain->box_links) + ", offcut " + std::to_string(order.offcut);
  }
  text += ". Count " + std::to_string(order.rollers) + " rollers" +
          (order.boxes > 1 ? " in all pieces together" : "") +
          " and cut there: both ends must be inner links. Close it with ";
  text += order.connecting_links > 1 ? std::to_string(order.connecting_links) + " connecting links"
                                     : "a connecting link";
  if (order.half_links > 0) text += " and one half link (one roller)";
  line(out, "cut the chain", text + ".");
}

void write_slack_text(std::ostream& out, const SlackSetting& s, const spec::Bike& bike) {
  line(out, "slack",
       "set " + millimetres(s.play_rest) +
           " of free play, up and down in all, in the middle of the lower run with the bike on its "
           "wheels (arm " +
           below_horizontal(bike.swing_arm->rest) + "), shaft to axle about " +
           millimetres(s.rest_distance) + ". It is tightest with the arm " +
           below_horizontal(s.tightest_angle) + ": " + millimetres(s.play_tightest) +
           " left; at droop " + millimetres(s.play_droop) + ", at full bump " +
           millimetres(s.play_bump) + ". The chain's path changes by " +
           millimetres(s.path_change, 1) + ".");
  line(out, "pivot",
       "its axis is " + millimetres(s.pivot_to_upper) + " from the upper and " +
           millimetres(s.pivot_to_lower) +
           " from the lower run's pitch line where they come nearest; a chain that slaps comes "
           "nearer.");
}

}  // namespace

std::string chain_line_text(const Design& d, const spec::Requirement& requirement) {
  const auto fit = line_up(d, requirement).fit;
  if (!fit) return "";
  std::string text = "middle of the rear teeth " + millimetres(fit->rear_teeth, 1) +
                     " from the bike's centre plane; front sprocket with its teeth at the hub's " +
                     (fit->teeth_outside ? "outer" : "inner") + " end, ";
  text += fit->shaft_spacer > 0 ? millimetres(fit->shaft_spacer, 1) + " of spacer behind the hub"
                                : "the hub against the shaft's face";
  if (fit->rear_shift > 0) {
    text +=
        "; rear sprocket on a spacer of " + millimetres(fit->rear_shift, 1) + " with longer bolts";
  } else if (fit->rear_shift < 0) {
    text += "; rear sprocket dished inwards by " + millimetres(-fit->rear_shift, 1);
  }
  return text;
}

void write_chain(JsonWriter& json, const Design& d, const spec::Requirement& requirement) {
  const rules::ChainRun& run = d.chain;
  json.key("chain");
  json.begin_object();
  json.key("links");
  if (run.fit) {
    json.value(run.fit->links);
  } else {
    json.null();
  }
  json.member("centre_distance_mm",
              run.fit ? run.fit->centre_distance * kMillimetre : model::kNone);
  json.member("wrap_deg", run.wrap * kDegree);
  json.member("efficiency", run.efficiency);
  write_chain_load(json, d);
  write_possible(json, d, requirement.bike);
  write_order(json, d);
  write_slack(json, d, requirement.bike);
  write_line(json, d, requirement);
  json.end_object();
}

void write_chain_work(std::ostream& out, const Design& d, const spec::Requirement& requirement) {
  const spec::Bike& bike = requirement.bike;
  for (const ChainFit& fit : d.chain_fits) {
    line(out, &fit == d.chain_fits.data() ? "chain lengths" : "",
         std::to_string(fit.links) + " links: shaft to axle " +
             millimetres(fit.centre_distance, 1) + ", " +
             millimetres(fit.centre_distance - bike.min_centre_distance, 1) +
             " from the forward end; " +
             millimetres(bike.max_centre_distance - fit.centre_distance, 1) +
             " left for wear, which take up " +
             rounded(100 * elongation(d, fit, bike.max_centre_distance), 2) + " %" +
             (fit.links % 2 != 0 ? "; with a half link" : ""));
  }
  if (d.chain_order) write_order_text(out, d);
  if (d.chain.slack) write_slack_text(out, *d.chain.slack, bike);
  const std::string across = chain_line_text(d, requirement);
  if (!across.empty()) line(out, "chain line", across);
}

}  // namespace sprocketry::report
