#include "model/chain_strength.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {

double tight_side_pull(double pitch, int teeth, double torque) {
  return 2.0 * torque * std::tan(kPi / teeth) / pitch;
}

double centrifugal_pull(double mass_per_length, double chain_speed) {
  return mass_per_length * (chain_speed * chain_speed);
}

double chain_speed(double pitch, int teeth, double sprocket_speed) {
  return sprocket_speed / (2.0 * kPi) * teeth * pitch;
}

double largest_pull(const Chain& chain, int front_teeth, double torque_ratio, double speed_ratio,
                    const TorqueCurve& curve) {
  const double per_torque = torque_ratio * tight_side_pull(chain.pitch, front_teeth, 1.0);
  const double per_speed = speed_ratio * chain_speed(chain.pitch, front_teeth, 1.0);
  double largest = 0;
  for (const TorquePoint& point : curve.corners()) {
    largest =
        std::max(largest, per_torque * point.torque +
                              centrifugal_pull(chain.mass_per_length, per_speed * point.speed));
  }
  return largest;
}

}  // namespace sprocketry::model
