#include "model/wiring.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "model/constants.hpp"
#include "model/performance.hpp"

namespace sprocketry::model {
namespace {

std::array<Cable, 14> make_cables() {
  std::array<Cable, 14> cables{{{"16 AWG", 16, 25},
                                {"14 AWG", 14, 35},
                                {"12 AWG", 12, 45},
                                {"10 AWG", 10, 60},
                                {"8 AWG", 8, 80},
                                {"6 AWG", 6, 120},
                                {"4 AWG", 4, 160},
                                {"3 AWG", 3, 180},
                                {"2 AWG", 2, 210},
                                {"1 AWG", 1, 245},
                                {"1/0 AWG", 0, 285},
                                {"2/0 AWG", -1, 330},
                                {"3/0 AWG", -2, 385},
                                {"4/0 AWG", -3, 445}}};
  for (Cable& cable : cables) cable.area = wire_gauge_area(static_cast<int>(cable.area));
  return cables;
}

constexpr double kTimeConstants = 5.0;

}  // namespace

std::span<const Cable> cable_sizes() {
  static const std::array<Cable, 14> kCables = make_cables();
  return kCables;
}

double wire_gauge_area(int gauge) {
  const double diameter = 0.127e-3 * std::pow(92.0, (36.0 - gauge) / 39.0);
  return 0.25 * kPi * diameter * diameter;
}

const Cable* smallest_cable(double current) {
  const auto sizes = cable_sizes();
  const auto found =
      std::ranges::find_if(sizes, [&](const Cable& cable) { return cable.ampacity >= current; });
  return found == sizes.end() ? nullptr : &*found;
}

double adiabatic_area(double current, double duration, double start, double end) {
  constexpr double kCopper = 226e6;  // A s^0.5/m2
  constexpr double kOffset = 234.5 - kZeroCelsius;
  const double k = kCopper * std::sqrt(std::log((kOffset + end) / (kOffset + start)));
  return current * std::sqrt(duration) / k;
}

const Cable* smallest_motor_cable(double current, double peak, double duration) {
  constexpr double kAir = kZeroCelsius + 50.0;
  constexpr double kInsulation = kZeroCelsius + 105.0;
  const auto serves = [&](const Cable& cable) {
    const double for_ever = cable.ampacity * kWarmSpace;
    if (peak <= for_ever) return true;
    if (current >= for_ever) return false;
    const double share = current / for_ever;
    const double start = kAir + (kInsulation - kAir) * share * share;
    return adiabatic_area(peak, duration, start, kInsulation) <= cable.area;
  };
  const auto sizes = cable_sizes();
  const auto found = std::ranges::find_if(sizes, serves);
  return found == sizes.end() ? nullptr : &*found;
}

double cable_resistance(double area, double temperature) {
  constexpr double kCopper = 1e-6 / 58.0;  // ohm m at 20 degC
  constexpr double kPerKelvin = 0.00393;
  constexpr double kStranding = 1.15;
  const double above = temperature - (kZeroCelsius + 20.0);
  return kStranding * kCopper * (1.0 + kPerKelvin * above) / area;
}

double fuse_rating(double current) {
  constexpr std::array kRatings = {16.0,  20.0,  25.0,  32.0,  40.0,   50.0,  63.0,
                                   80.0,  100.0, 125.0, 160.0, 200.0,  250.0, 315.0,
                                   400.0, 500.0, 630.0, 800.0, 1000.0, 1250.0};
  constexpr double kLoading = 0.8;
  const auto found =
      std::ranges::find_if(kRatings, [&](double rating) { return kLoading * rating >= current; });
  return found == kRatings.end() ? kNone : *found;
}

Precharge precharge(double voltage, double capacitance, double resistance) {
  Precharge p;
  p.resistance = resistance;
  p.time = kTimeConstants * resistance * capacitance;
  p.peak_current = voltage / resistance;
  p.peak_power = voltage * voltage / resistance;
  p.energy = 0.5 * capacitance * voltage * voltage;
  p.left = voltage * std::exp(-kTimeConstants);
  return p;
}

double precharge_resistor(double capacitance, double time) {
  constexpr std::array kSeries = {1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2};
  const double most = time / (kTimeConstants * capacitance);
  const double decade = std::pow(10.0, std::floor(std::log10(most) + 1e-12));
  double best = decade;
  for (const double step : kSeries) {
    if (step * decade <= most * (1.0 + 1e-12)) best = step * decade;
  }
  return best;
}

}  // namespace sprocketry::model
