#include "search/design.hpp"

#include <algorithm>
#include <cmath>

#include "rules/whole_charge.hpp"
#include "search/evaluator.hpp"

namespace sprocketry::search {
namespace {

Settings make_settings(const rules::Selection& parts, const model::Level& level) {
  return {level.side.stated_limit,
          std::min(parts.motor->model.peak_current, parts.controller->model.motor_current),
          level.side.low_voltage};
}

// Range in m on what a charge fills of the pack, from that state of charge (0..1) down; kNone when
// there is none.
double range_from(const Setup& setup, const rules::Selection& parts, const DriveOption& drive,
                  double mass, double state_of_charge) {
  const model::Questions& q = setup.questions;
  const model::Pack filled = model::filled_to(parts.pack->model, state_of_charge);
  const model::Level level =
      model::make_level(q, parts.motor->model, parts.controller->model, filled);
  const model::Build build =
      model::make_build(level, drive.gearing, make_rolling(setup, parts.motor->model, mass));
  model::RideWork work;
  model::Performance performance = model::make_performance(q);
  model::evaluate_ride(q, build, work, performance);
  model::evaluate_range(q, build, work, performance);
  return performance.range;
}

// Of the currency per J from the wall; kNone when it is not stated.
double energy_price(const spec::Requirement& requirement) {
  if (!requirement.charging.energy_price) return model::kNone;
  constexpr double kKilowattHour = 3.6e6;
  return static_cast<double>(*requirement.charging.energy_price) /
         static_cast<double>(parts::kMoneyUnit) / kKilowattHour;
}

std::optional<Charging> make_charging(const Setup& setup, const rules::Selection& parts,
                                      const DriveOption& drive, const spec::Metrics& metrics) {
  const auto whole = rules::whole_charge(*setup.requirement, parts);
  if (!whole) return {};
  const double end = whole->charge.state_of_charge;
  // What the charger cannot fill is neither paid for nor ridden.
  const double range = end < parts.pack->model.cell.usable_from
                           ? range_from(setup, parts, drive, metrics.mass, end)
                           : metrics.performance.range;
  const double consumption = range > 0 ? whole->charge.wall_energy / range : model::kNone;
  return Charging{whole->from, whole->charge, consumption,
                  consumption * energy_price(*setup.requirement)};
}

// How tight a row is: its margin in proportion to its limit. Yes-or-no and equal checks are never
// tight.
double tightness(const rules::Row& row) {
  const double scale = std::max(std::abs(row.limit), 1e-12);
  return row.margin / scale;
}

bool can_be_tight(const rules::Row& row) {
  return row.kind == rules::Kind::kReject && !row.unchecked && row.holds &&
         std::isfinite(row.margin) && row.margin != 0 && row.unit_kind != rules::Unit::kNone;
}

rules::Row outside_choose_row() {
  rules::Row row;
  row.rule = kNotInChoose;
  row.kind = rules::Kind::kCaution;
  row.holds = false;
  row.source = "the requirement";
  return row;
}

Design evaluate_with_run(const Setup& setup, const Space& space, const Combination& c,
                         const rules::Selection& parts, const rules::ChainRun& run) {
  Design design;
  design.parts = parts;
  design.chain = run;
  design.chain_fits = model::chain_fits(
      design.parts.chain->model.pitch, design.parts.front_teeth, design.parts.rear_teeth,
      setup.requirement->bike.min_centre_distance, setup.requirement->bike.max_centre_distance,
      setup.requirement->choose.half_links);
  if (design.chain.fit) {
    design.chain_order = model::chain_order(design.chain.fit->links, design.parts.chain->box_links);
  }
  const PreparedLevel level = prepare_level(setup, space, c.motor, c.controller, c.pack);
  const DriveOption drive = make_drive(space, c.chain, c.front, c.rear, design.chain);
  Evaluator evaluator(setup, space);
  design.metrics = evaluator.full(level, drive, space.chargers[c.charger]);
  design.settings = make_settings(design.parts, level.level);
  design.charging = make_charging(setup, design.parts, drive, design.metrics);
  for (const ExtraOption& extra : space.extras) {
    if (needed(*extra.part, *design.parts.pack, level.level.side.stated_limit)) {
      design.extras.push_back(extra.part);
    }
  }
  design.torque = level.torque;
  const model::ShaftTorque today =
      model::shaft_torque(level.level.full, level.level.full, level.level.continuous.motor_current);
  design.peak_power = today.peak_power;
  design.continuous_power = today.continuous_power;
  const rules::Context context{*setup.requirement, design.parts, design.chain, design.metrics,
                               design.torque};
  design.load = rules::chain_load(context);
  design.duty = rules::chain_duty(context);
  for (const rules::Check& check : setup.all) design.rows.push_back(make_row(check, context));
  return design;
}

}  // namespace

rules::Selection selection(const Space& space, const Combination& c) {
  return selection(space, c.motor, c.controller, c.pack, c.charger, c.chain, c.front, c.rear);
}

std::vector<std::string_view> Design::rejected_by() const {
  std::vector<std::string_view> names;
  for (const rules::Row& row : rows) {
    const bool rejects = row.kind == rules::Kind::kReject && !row.unchecked && !row.holds;
    if (rejects && std::ranges::find(names, row.rule) == names.end()) names.push_back(row.rule);
  }
  return names;
}

Design evaluate_design(const Setup& setup, const Space& space, const Combination& c) {
  const rules::Selection parts = selection(space, c);
  return evaluate_with_run(
      setup, space, c, parts,
      chain_run(*setup.requirement, parts.chain->model, parts.front_teeth, parts.rear_teeth));
}

Design evaluate_design(const Setup& setup, const Space& space, const Combination& c, int links) {
  const rules::Selection parts = selection(space, c);
  return evaluate_with_run(setup, space, c, parts,
                           chain_run(*setup.requirement, parts.chain->model, parts.front_teeth,
                                     parts.rear_teeth, links));
}

std::vector<rules::Row> telling_rows(const Design& design) {
  constexpr std::size_t kTightest = 3;
  std::vector<rules::Row> rows;
  if (design.outside_choose) rows.push_back(outside_choose_row());
  std::vector<const rules::Row*> tight;
  for (const rules::Row& row : design.rows) {
    if (row.unchecked || !row.holds) {
      rows.push_back(row);
    } else if (can_be_tight(row)) {
      tight.push_back(&row);
    }
  }
  std::ranges::stable_sort(tight, {}, [](const rules::Row* row) { return tightness(*row); });
  for (std::size_t i = 0; i < std::min(kTightest, tight.size()); ++i) rows.push_back(*tight[i]);
  return rows;
}

}  // namespace sprocketry::search
