#include "model/road.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

// N/(km/h)^2 to N/(m/s)^2.
constexpr double kPerKmHSquared = 3.6 * 3.6;

struct CfrRow {
  double inertia_mass, a, c;  // kg, N, N/(km/h)^2
};

// 40 CFR 86.529-98, Figure F98-9; seen in the published text.
constexpr std::array kCfr = {
    CfrRow{100, 0.0, 0.0224},   CfrRow{110, 0.82, 0.0227},  CfrRow{120, 1.70, 0.0230},
    CfrRow{130, 2.57, 0.0233},  CfrRow{140, 3.44, 0.0235},  CfrRow{150, 4.32, 0.0238},
    CfrRow{160, 5.19, 0.0241},  CfrRow{170, 6.06, 0.0244},  CfrRow{180, 6.94, 0.0246},
    CfrRow{190, 7.81, 0.0249},  CfrRow{200, 8.69, 0.0252},  CfrRow{210, 9.56, 0.0255},
    CfrRow{220, 10.43, 0.0257}, CfrRow{230, 11.31, 0.0260}, CfrRow{240, 12.18, 0.0263},
    CfrRow{250, 13.06, 0.0266}, CfrRow{260, 13.93, 0.0268}, CfrRow{270, 14.80, 0.0271},
    CfrRow{280, 15.68, 0.0274}, CfrRow{290, 16.55, 0.0277}, CfrRow{300, 17.43, 0.0279},
    CfrRow{310, 18.30, 0.0282}, CfrRow{320, 19.17, 0.0285}, CfrRow{330, 20.05, 0.0288},
    CfrRow{340, 20.92, 0.0290},
};

RegulationRow cfr_row(double mass) {
  // Bands are 10 kg wide and end on a 5 inclusive (96 to 105 kg is 100 kg).
  const double index = std::ceil((mass - 105.0) / 10.0);
  const double last = static_cast<double>(kCfr.size()) - 1.0;
  const CfrRow& row = kCfr[static_cast<std::size_t>(std::clamp(index, 0.0, last))];
  return {row.inertia_mass, row.a, row.c * kPerKmHSquared};
}

RegulationRow gtr2_row(double mass) {
  const double inertia_mass = std::max(100.0, 10.0 * std::ceil((mass - 5.0) / 10.0));
  return {inertia_mass, 0.088 * inertia_mass, (0.000015 * inertia_mass + 0.0200) * kPerKmHSquared};
}

RoadLoad from_row(const RegulationRow& row, double reference_density, double carried_share) {
  return {row.constant / (row.inertia_mass * kGravity * carried_share), 0.0,
          2.0 * row.quadratic / reference_density};
}

constexpr double kCfrAirDensity = 1.17;      // kg/m3, 40 CFR 1066.310
constexpr double kGtr2AirDensity = 1.18836;  // kg/m3, dry air at 20 degC and 100 kPa

}  // namespace

RegulationRow regulation_row(RegulationLoad regulation, double mass) {
  return regulation == RegulationLoad::kCfr40Part86 ? cfr_row(mass) : gtr2_row(mass);
}

RoadLoad resolve(const RoadLaw& law, double mass, double air_density, double front_share) {
  if (const auto* stated = std::get_if<RoadLoad>(&law)) return *stated;
  if (const auto* measured = std::get_if<CoastDown>(&law)) {
    const double test_mass = measured->mass > 0 ? measured->mass : mass;
    const double test_air = measured->air_density > 0 ? measured->air_density : air_density;
    return {measured->f0 / (test_mass * kGravity), measured->f1, 2.0 * measured->f2 / test_air};
  }
  const auto regulation = std::get<RegulationLoad>(law);
  const RegulationRow row = regulation_row(regulation, mass);
  return regulation == RegulationLoad::kCfr40Part86 ? from_row(row, kCfrAirDensity, 1.0)
                                                    : from_row(row, kGtr2AirDensity, front_share);
}

double air_density(double altitude, double temperature) {
  constexpr double kSeaLevelTemperature = 288.15;  // K
  constexpr double kLapse = 0.0065;                // K/m
  constexpr double kSeaLevelPressure = 101325.0;   // Pa
  constexpr double kExponent = 5.25588;
  constexpr double kGasConstant = 287.05287;  // J/kg K
  const double pressure =
      kSeaLevelPressure *
      std::pow((kSeaLevelTemperature - kLapse * altitude) / kSeaLevelTemperature, kExponent);
  return pressure / (kGasConstant * temperature);
}

double road_force(const RoadLoad& load, const Surroundings& air, double mass, double grade,
                  double speed) {
  const double cosine = 1.0 / std::sqrt(1.0 + grade * grade);
  const double weight = mass * kGravity * cosine * (load.rolling_resistance + grade);
  const double wind = speed + air.headwind;
  return weight + load.linear * speed +
         0.5 * air.air_density * load.drag_area * wind * std::abs(wind);
}

double grade_from_force(double rolling_resistance, double mass, double force, double other) {
  const double demand = (force - other) / (mass * kGravity);
  const double f = rolling_resistance;
  const double discriminant = 1.0 + f * f - demand * demand;
  if (demand > 0 && discriminant <= 0) return std::numeric_limits<double>::infinity();
  if (demand <= -1.0) return -std::numeric_limits<double>::infinity();
  // f cos + sin = demand: the root with the cosine positive.
  const double root = std::sqrt(std::max(discriminant, 0.0));
  const double sine = (demand - f * root) / (1.0 + f * f);
  const double cosine = (f * demand + root) / (1.0 + f * f);
  return cosine > 0 ? sine / cosine : std::numeric_limits<double>::infinity();
}

}  // namespace sprocketry::model
