#include "model/expectation.hpp"

#include "model/performance.hpp"
#include "model/speeds.hpp"

namespace sprocketry::model {

FreeRun free_run(const DriveLimits& d, const Gearing& g) {
  const double per_constant = d.duty_resistance / d.torque_constant;
  FreeRun run;
  run.motor_speed = std::max(0.0, (d.voltage - per_constant * d.loss.constant) /
                                      (d.torque_constant + per_constant * d.loss.viscous));
  run.road_speed = run.motor_speed / g.ratio;
  run.battery_current = d.loss.at(run.motor_speed) / d.torque_constant / d.efficiency;
  return run;
}

SteadyDraw steady_draw(const DriveLimits& d, const Gearing& g, const Rolling& r, double speed,
                       double accessories) {
  const double force = road_force(r.load, r.air, r.mass, 0.0, speed);
  if (force > drive_force(d, g, r.largest_force, speed)) return {kNone, kNone, kNone, kNone};
  SteadyDraw draw;
  draw.motor_current = demanded_current(d, g, force, speed);
  draw.motor_speed = g.ratio * speed;
  const double power = draw.motor_current *
                       (draw.motor_current * d.resistance + d.torque_constant * draw.motor_speed);
  draw.battery_current =
      battery_current(d.voltage, d.pack_resistance, power / d.efficiency + accessories);
  draw.pack_voltage = d.voltage - draw.battery_current * d.pack_resistance;
  return draw;
}

}  // namespace sprocketry::model
