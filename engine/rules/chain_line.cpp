#include "rules/chain_line.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "rules/checks.hpp"

namespace sprocketry::rules {
namespace {

Finding chain_line(const Context& c, std::size_t) {
  const LineUp line = line_up(c);
  if (!line.fit) return not_given(line.missing);
  const double distance =
      c.chain.fit ? c.chain.fit->centre_distance : c.requirement.bike.max_centre_distance;
  return at_most(std::abs(line.fit->rear_shift), model::line_tolerance(distance));
}

std::string reason(const Context& c, std::size_t) {
  const LineUp line = line_up(c);
  if (!line.fit) return "";
  return line.fit->rear_shift > 0
             ? "the front sprocket cannot come in far enough: the rear one needs a spacer"
             : "the front sprocket cannot come out far enough on its shaft: the rear one must be "
               "dished inwards";
}

constexpr std::array kRules = {
    Rule{"chain line", Stage::kFit, Kind::kCaution, Unit::kMillimetre, slot::kMotor | slot::kDrive,
         "1 mm, beyond 1 m between shafts a thousandth: chain makers' installation guides (from "
         "memory)",
         "both sprockets come into one plane without a spacer or a dished sprocket at the wheel",
         one_item, chain_line, nullptr, false, reason},
};

}  // namespace

LineUp line_up(const Context& c) {
  const spec::Bike& bike = c.requirement.bike;
  if (!bike.chain_line) return {std::nullopt, "bike.chain_line"};
  if (!c.parts.front->hub_length) return {std::nullopt, "hub_length of the front sprocket"};
  double shaft = std::numeric_limits<double>::infinity();
  if (!bike.primary) {
    if (!c.parts.motor->shaft || !c.parts.motor->shaft->length) {
      return {std::nullopt, "shaft.length of the motor"};
    }
    shaft = *c.parts.motor->shaft->length;
  }
  if (!(c.parts.chain->inner_width > 0)) return {std::nullopt, "width of the chain"};
  const double tooth = model::tooth_thickness(c.parts.chain->inner_width);
  return {model::fit_chain_line(*bike.chain_line, tooth,
                                std::max(*c.parts.front->hub_length, tooth), shaft),
          nullptr};
}

std::span<const Rule> chain_line_rules() { return kRules; }

}  // namespace sprocketry::rules
