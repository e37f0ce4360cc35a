#include "search/evaluator.hpp"

namespace sprocketry::search {

PreparedLevel prepare_level(const Setup& setup, const Space& space, std::size_t motor,
                            std::size_t controller, std::size_t pack) {
  PreparedLevel p;
  p.parts.motor = space.motors[motor].part;
  p.parts.controller = space.controllers[controller].part;
  p.parts.pack = &space.packs[pack].part;
  p.level = model::make_level(setup.questions, p.parts.motor->model, p.parts.controller->model,
                              p.parts.pack->model);
  p.extras = extras_cost(space, *p.parts.pack, p.level.side.stated_limit);
  p.price = space.motors[motor].price + space.controllers[controller].price +
            space.packs[pack].price + p.extras.price;
  return p;
}

Evaluator::Evaluator(const Setup& setup, const Space& space) : setup_(&setup), space_(&space) {
  metrics_.performance = model::make_performance(setup.questions);
  metrics_.listed_cruises = setup.listed_cruises;
}

void Evaluator::set_parts(const PreparedLevel& level, const DriveOption& drive,
                          double charger_mass) {
  const FrontOption& front = space_->fronts[drive.front];
  const RearOption& rear = space_->rears[drive.rear];
  parts_ = level.parts;
  parts_.chain = space_->chains[drive.chain].part;
  parts_.front = front.family;
  parts_.front_teeth = front.teeth;
  parts_.rear = rear.family;
  parts_.rear_teeth = rear.teeth;
  metrics_.mass = bike_mass(*setup_, parts_, charger_mass, drive.chain_mass, front.mass, rear.mass,
                            level.extras.mass);
  build_ = model::make_build(level.level, drive.gearing,
                             make_rolling(*setup_, parts_.motor->model, metrics_.mass));
}

void Evaluator::set_charger(const PreparedLevel& level, const DriveOption& drive,
                            const ChargerOption& charger) {
  parts_.charger = charger.part;
  metrics_.price = level.price + drive.price + charger.price;
  metrics_.charge_time = charge_time(*parts_.pack, charger.part);
}

std::optional<std::size_t> Evaluator::first_failure(const std::vector<rules::Check>& checks,
                                                    const DriveOption& drive) const {
  const rules::Context context{*setup_->requirement, parts_, drive.run, metrics_};
  for (const rules::Check& check : checks) {
    const rules::Finding finding = check.rule->check(context, check.item);
    if (!finding.unchecked() && !finding.holds()) return check.index;
  }
  return std::nullopt;
}

std::optional<std::size_t> Evaluator::riding_fail(const PreparedLevel& level,
                                                  const DriveOption& drive,
                                                  double carried_charger_mass) {
  set_parts(level, drive, carried_charger_mass);
  model::evaluate_top_speed(build_, metrics_.performance);
  if (const auto failed = first_failure(setup_->speed, drive)) return failed;
  model::evaluate_ride(setup_->questions, build_, work_, metrics_.performance);
  if (const auto failed = first_failure(setup_->heat, drive)) return failed;
  model::evaluate_throttle(setup_->questions, build_, metrics_.performance);
  return std::nullopt;
}

std::optional<std::size_t> Evaluator::demands_fail(const PreparedLevel& level,
                                                   const DriveOption& drive,
                                                   const ChargerOption& charger) {
  set_charger(level, drive, charger);
  return first_failure(setup_->demand, drive);
}

const spec::Metrics& Evaluator::full(const PreparedLevel& level, const DriveOption& drive,
                                     const ChargerOption& charger) {
  set_parts(level, drive, charger.carried_mass);
  model::evaluate_top_speed(build_, metrics_.performance);
  model::evaluate_ride(setup_->questions, build_, work_, metrics_.performance);
  model::evaluate_throttle(setup_->questions, build_, metrics_.performance);
  set_charger(level, drive, charger);
  return metrics_;
}

}  // namespace sprocketry::search
