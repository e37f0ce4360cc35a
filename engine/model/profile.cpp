#include "model/profile.hpp"

#include <algorithm>
#include <tuple>

namespace sprocketry::model {

RideDemand reduce(const Profile& profile) {
  RideDemand demand;
  demand.points.reserve(profile.size());
  for (std::size_t i = 1; i < profile.size(); ++i) {
    const ProfileSample& a = profile[i - 1];
    const ProfileSample& b = profile[i];
    const double duration = b.time - a.time;
    const double speed = 0.5 * (a.speed + b.speed);
    demand.points.push_back(
        {speed, (b.speed - a.speed) / duration, 0.5 * (a.grade + b.grade), duration});
    demand.duration += duration;
    demand.distance += speed * duration;
  }
  const auto key = [](const OperatingPoint& p) {
    return std::tuple(p.speed, p.acceleration, p.grade);
  };
  std::ranges::stable_sort(demand.points, {}, key);
  std::vector<OperatingPoint> merged;
  for (const OperatingPoint& point : demand.points) {
    if (!merged.empty() && key(merged.back()) == key(point)) {
      merged.back().duration += point.duration;
    } else {
      merged.push_back(point);
    }
  }
  demand.points = std::move(merged);
  return demand;
}

RideDemand steady_ride(double speed) { return {{{speed, 0.0, 0.0, 1.0}}, 1.0, speed}; }

}  // namespace sprocketry::model
