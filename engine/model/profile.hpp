#pragma once

#include <vector>

namespace sprocketry::model {

// A ride: speed (m/s) and grade (tan) over time (s), linear between samples.
struct ProfileSample {
  double time = 0;
  double speed = 0;
  double grade = 0;
};
using Profile = std::vector<ProfileSample>;

// Intervals of a profile that share mean speed, acceleration and grade, with their total time. A
// ride's cost depends on nothing else, since each interval is evaluated at its mean speed.
struct OperatingPoint {
  double speed = 0;         // m/s
  double acceleration = 0;  // m/s2
  double grade = 0;         // tan
  double duration = 0;      // s
};

struct RideDemand {
  std::vector<OperatingPoint> points;  // distinct, in ascending order of speed, acceleration, grade
  double duration = 0;                 // s
  double distance = 0;                 // m
};

// Reduces a profile of at least 2 samples, ascending in time. Points whose values agree to the last
// bit are merged.
RideDemand reduce(const Profile& profile);

// A ride at one speed (m/s) on the flat, 1 s long.
RideDemand steady_ride(double speed);

}  // namespace sprocketry::model
