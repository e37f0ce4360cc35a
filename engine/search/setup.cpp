#include "search/setup.hpp"

#include <algorithm>
#include <limits>

#include "model/constants.hpp"

namespace sprocketry::search {
namespace {

void add_speed(std::vector<double>& speeds, double speed) {
  if (std::ranges::find(speeds, speed) == speeds.end()) speeds.push_back(speed);
}

model::Questions make_questions(const spec::Requirement& r) {
  model::Questions q;
  q.air = {model::air_density(r.conditions.altitude, r.conditions.air_temperature),
           r.conditions.headwind};
  q.air_temperature = r.conditions.air_temperature;
  q.winding_temperature = r.conditions.winding_temperature;
  q.state_of_charge = r.conditions.state_of_charge;
  q.low_state_of_charge = r.conditions.low_state_of_charge;
  q.accessories = r.bike.accessories;
  q.ceiling = r.must.battery_current.value_or(std::numeric_limits<double>::infinity());
  q.pull_away_to = r.pull_away_to;
  q.ride = model::ride_columns(model::reduce(r.ride), q.air);
  q.cruise = r.cruise;
  for (const spec::AtSpeed& asked : r.must.cruise_range) add_speed(q.cruise, asked.speed);
  for (const spec::AtSpeed& asked : r.must.cruise_current) add_speed(q.cruise, asked.speed);
  for (const double speed : q.cruise) {
    q.cruise_rides.push_back(model::ride_columns(model::steady_ride(speed), q.air));
  }
  for (const spec::SpeedChange& change : r.accelerations) {
    q.accelerations.push_back({change.from, change.to, model::kNone});
  }
  for (const spec::Climb& climb : r.must.climbs) {
    q.climbs.push_back({climb.grade, climb.speed, climb.duration});
  }
  return q;
}

// Of the link counts that fit the shortest; with a swing arm the shortest that can also be set
// slack enough for the suspension, if there is one.
void fit(const spec::Bike& bike, bool half_links, double pitch, int front_teeth, int rear_teeth,
         rules::ChainRun& run) {
  run.fit = model::fit_chain(pitch, front_teeth, rear_teeth, bike.min_centre_distance,
                             bike.max_centre_distance, half_links);
  if (!run.fit || !bike.swing_arm) return;
  const auto setting = [&](const model::ChainFit& fit) {
    return model::slack_setting(*bike.swing_arm, pitch, front_teeth, rear_teeth, fit.links);
  };
  run.slack = setting(*run.fit);
  if (run.slack && run.slack->rest_distance >= bike.min_centre_distance) return;
  for (const model::ChainFit& other :
       model::chain_fits(pitch, front_teeth, rear_teeth, bike.min_centre_distance,
                         bike.max_centre_distance, half_links)) {
    const auto slack = setting(other);
    if (!slack || slack->rest_distance < bike.min_centre_distance) continue;
    run.fit = other;
    run.slack = slack;
    return;
  }
}

}  // namespace

Setup make_setup(const spec::Requirement& r) {
  Setup s;
  s.requirement = &r;
  s.questions = make_questions(r);
  s.listed_cruises = r.cruise.size();
  s.stance = {r.bike.wheelbase, r.bike.centre_of_gravity_height, r.bike.centre_of_gravity_behind,
              r.conditions.grip};
  s.front_share = (r.bike.wheelbase - r.bike.centre_of_gravity_behind) / r.bike.wheelbase;
  const double radius = r.bike.rolling_circumference / (2.0 * model::kPi);
  s.wheel_mass = r.bike.wheel_inertia / (radius * radius);
  s.carried_mass = r.rider_mass + r.load_mass;
  s.all = rules::active_checks(r);
  for (const rules::Check& check : s.all) {
    if (check.rule->kind != rules::Kind::kReject) continue;
    switch (check.rule->stage) {
      case rules::Stage::kElectrical:
        s.electrical.push_back(check);
        break;
      case rules::Stage::kFit:
        s.fit.push_back(check);
        break;
      case rules::Stage::kStrength:
        s.strength.push_back(check);
        break;
      case rules::Stage::kSpeed:
        s.speed.push_back(check);
        break;
      case rules::Stage::kHeat:
        s.heat.push_back(check);
        break;
      case rules::Stage::kDemand:
        s.demand.push_back(check);
        break;
    }
  }
  // It is the last rule; see Setup.
  s.objective_exists = s.demand.back();
  s.demand.pop_back();
  for (const std::string& name : r.objectives) {
    s.objectives.push_back(spec::find_metric(name));
    s.objective_figures |= s.objectives.back()->reads;
  }
  return s;
}

rules::ChainRun chain_run(const spec::Requirement& r, const model::Chain& chain, int front_teeth,
                          int rear_teeth) {
  rules::ChainRun run;
  run.reduction = static_cast<double>(rear_teeth) / front_teeth;
  run.efficiency = model::chain_efficiency(chain, front_teeth, rear_teeth);
  const spec::Primary primary = r.bike.primary.value_or(spec::Primary{});
  run.total_reduction = primary.ratio * run.reduction;
  run.total_efficiency = primary.efficiency * run.efficiency;
  fit(r.bike, r.choose.half_links, chain.pitch, front_teeth, rear_teeth, run);
  run.wrap = model::wrap_angle(chain.pitch, front_teeth, rear_teeth,
                               run.fit ? run.fit->centre_distance : r.bike.min_centre_distance);
  return run;
}

rules::ChainRun chain_run(const spec::Requirement& r, const model::Chain& chain, int front_teeth,
                          int rear_teeth, int links) {
  rules::ChainRun run = chain_run(r, chain, front_teeth, rear_teeth);
  if (run.fit && run.fit->links == links) return run;
  const spec::Bike& bike = r.bike;
  const auto fits = model::chain_fits(chain.pitch, front_teeth, rear_teeth,
                                      bike.min_centre_distance, bike.max_centre_distance, true);
  const auto fit = std::ranges::find(fits, links, &model::ChainFit::links);
  run.fit.reset();
  run.slack.reset();
  if (fit != fits.end()) {
    run.fit = *fit;
    if (bike.swing_arm) {
      run.slack =
          model::slack_setting(*bike.swing_arm, chain.pitch, front_teeth, rear_teeth, links);
    }
  }
  run.wrap = model::wrap_angle(chain.pitch, front_teeth, rear_teeth,
                               run.fit ? run.fit->centre_distance : bike.min_centre_distance);
  return run;
}

model::Rolling make_rolling(const Setup& s, const model::Motor& motor, double bike_mass) {
  const double mass = bike_mass + s.carried_mass;
  return {
      model::resolve(s.requirement->bike.road, mass, s.questions.air.air_density, s.front_share),
      s.questions.air,
      mass,
      s.wheel_mass,
      motor.rotor_inertia,
      model::largest_drive_force(s.stance, mass)};
}

double bike_mass(const Setup& s, const rules::Selection& p, double carried_charger_mass,
                 double chain_mass, double front_mass, double rear_mass, double extras_mass) {
  const spec::Bike& bike = s.requirement->bike;
  double mass = bike.mass;
  if (bike.primary) mass += bike.primary->mass;
  mass += p.motor->mass;
  mass += p.controller->mass;
  mass += p.pack->mass;
  mass += carried_charger_mass;
  mass += chain_mass;
  mass += front_mass;
  mass += rear_mass;
  mass += extras_mass;
  return mass;
}

double charge_time(const Setup& setup, const parts::PackPart& pack,
                   const parts::ChargerPart* charger) {
  if (!charger) return model::kNone;
  const model::Cell& cell = pack.model.cell;
  const double fed = setup.requirement->charging.outlet_power * charger->efficiency;
  const double current = std::min(charger->current, fed / pack.model.nominal_voltage);
  return (cell.usable_from - cell.usable_to) * pack.model.capacity / current;
}

}  // namespace sprocketry::search
