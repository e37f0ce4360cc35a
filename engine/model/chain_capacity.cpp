#include "model/chain_capacity.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

constexpr double kHorsepower = 745.69987158227;  // W, 550 ft lbf/s
constexpr double kInch = 0.0254;                 // m
constexpr double kPoundForce = 4.4482216152605;  // N
constexpr double kRpmPerRadian = 60.0 / (2.0 * kPi);

}  // namespace

double link_plate_power(const ChainRating& rating, double pitch, int teeth, double speed) {
  const double p = pitch / kInch;
  return kHorsepower * rating.plate * std::pow(teeth, 1.08) * std::pow(speed * kRpmPerRadian, 0.9) *
         std::pow(p, 3.0 - 0.07 * p);
}

double roller_power(const ChainRating& rating, double pitch, int teeth, double speed) {
  const double p = pitch / kInch;
  return kHorsepower * 1000.0 * rating.roller * std::pow(teeth / (speed * kRpmPerRadian), 1.5) *
         std::pow(p, 0.8);
}

double galling_speed(double pitch, int teeth, double tension) {
  const double p = pitch / kInch;
  const double inside = 82.5 / (std::pow(7.95, p) * std::pow(1.0278, teeth) *
                                std::pow(1.323, tension / kPoundForce / 1000.0));
  return 1000.0 * std::pow(inside, 1.0 / (1.59 * std::log10(p) + 1.873)) / kRpmPerRadian;
}

double power_capacity(const ChainRating& rating, double pitch, int teeth, double speed,
                      double tension) {
  if (speed > galling_speed(pitch, teeth, tension)) return 0.0;
  return std::min(link_plate_power(rating, pitch, teeth, speed),
                  roller_power(rating, pitch, teeth, speed));
}

}  // namespace sprocketry::model
