#include "rules/chain_load.hpp"

#include <algorithm>

#include "model/chain_strength.hpp"
#include "parts/chain_rating.hpp"
#include "rules/front_torque.hpp"

namespace sprocketry::rules {
namespace {

using model::TorquePoint;

double power_of(const TorquePoint& point) { return point.torque * point.speed; }

TorquePoint fastest_cruise(const Context& c) {
  const auto& asked = c.requirement.cruise;
  const auto item = static_cast<std::size_t>(std::ranges::max_element(asked) - asked.begin());
  const model::CruiseResult& cruise = c.metrics.performance.cruise[item];
  const model::Motor& motor = c.parts.motor->model;
  const spec::Conditions& conditions = c.requirement.conditions;
  const model::MotorTemperature warm =
      model::settled_at(motor, conditions.winding_temperature, conditions.air_temperature);
  const double torque = model::warm_torque_constant(motor, warm.body) * cruise.motor_current -
                        motor.loss.at(cruise.motor_speed);
  return {cruise.motor_speed, torque};
}

TorquePoint steady_point(const Context& c) {
  if (!c.requirement.cruise.empty()) return fastest_cruise(c);
  const auto corners = c.torque.continuing.corners();
  return corners.empty() ? TorquePoint{} : *std::ranges::max_element(corners, {}, power_of);
}

double pull(const Context& c, const model::TorqueCurve& curve) {
  const FrontShaft front = front_shaft(c.requirement);
  return model::largest_pull(c.parts.chain->model, c.parts.front_teeth, front.torque, front.speed,
                             curve);
}

const char* why_unrated(const model::ChainRating* rating, int teeth, double speed) {
  if (rating == nullptr) return "there is no published power rating for chain of this size";
  if (teeth < parts::kLeastRatedTeeth || teeth > parts::kMostRatedTeeth) {
    return "the rating tables have 11 to 45 teeth";
  }
  if (!(speed >= parts::kLeastRatedSpeed && speed <= parts::kGreatestRatedSpeed)) {
    return "the rating tables end at 50 and 3000 rpm of the front sprocket";
  }
  return nullptr;
}

}  // namespace

double peak_pull(const Context& c) { return pull(c, c.torque.burst); }

double built_strength(const Context& c) {
  const double even = c.parts.chain->model.tensile_strength;
  if (!c.requirement.choose.half_links) return even;
  return c.chain.fit ? even * model::strength_share(c.chain.fit->links) : model::kNone;
}

ChainLoad chain_load(const Context& c) {
  return {peak_pull(c), pull(c, c.torque.continuing), built_strength(c)};
}

ChainDuty chain_duty(const Context& c) {
  const TorquePoint motor = steady_point(c);
  ChainDuty duty;
  duty.speed = front_sprocket_speed(c.requirement, motor.speed);
  const double torque = front_sprocket_torque(c.requirement, motor.torque);
  duty.power = torque * duty.speed;
  const model::Chain& chain = c.parts.chain->model;
  const int teeth = c.parts.front_teeth;
  const model::ChainRating* rating = parts::find_chain_rating(c.parts.chain->size);
  duty.unrated = why_unrated(rating, teeth, duty.speed);
  if (duty.unrated != nullptr || duty.power != duty.power) return duty;
  const double tension =
      model::tight_side_pull(chain.pitch, teeth, torque) +
      model::centrifugal_pull(chain.mass_per_length,
                              model::chain_speed(chain.pitch, teeth, duty.speed));
  duty.galling = model::galling_speed(chain.pitch, teeth, tension);
  duty.capacity = model::power_capacity(*rating, chain.pitch, teeth, duty.speed, tension);
  return duty;
}

}  // namespace sprocketry::rules
