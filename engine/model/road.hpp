#pragma once

#include <span>
#include <variant>

namespace sprocketry::model {

// Resistance of a bike on the road, without mass and air: coefficients that keep their meaning in
// wind, on a grade and at altitude.
struct RoadLoad {
  double rolling_resistance = 0;  // force over weight
  double linear = 0;              // N s/m, proportional to road speed
  double drag_area = 0;           // m2
};

// Stated as drag area and rolling resistance: the RoadLoad itself (its `linear` is 0).
//
// Coast-down coefficients F = f0 + f1 v + f2 v^2 (N, N s/m, N s2/m2), measured with a total mass
// (kg; 0: taken as each design's own) in air of a density (kg/m3; 0: that of the requirement).
struct CoastDown {
  double f0 = 0;
  double f1 = 0;
  double f2 = 0;
  double mass = 0;
  double air_density = 0;
};

// Chassis-dynamometer road load that a regulation fixes by the mass ready to ride with rider.
enum class RegulationLoad {
  kCfr40Part86,  // 40 CFR 86.529-98, Figure F98-9
  kUnGtr2,  // UN GTR 2 (table rule); rear tyre added, the constant term being the front wheel's
};

using RoadLaw = std::variant<RoadLoad, CoastDown, RegulationLoad>;

// A row of a regulation's table: F = constant + quadratic v^2 in N with v in m/s, for an equivalent
// inertia mass in kg.
struct RegulationRow {
  double inertia_mass = 0;
  double constant = 0;
  double quadratic = 0;
};

// The row for a total mass in kg. 40 CFR 86.529-98: 25 rows, 100 to 340 kg step 10, the first and
// last held outside. UN GTR 2: a = 0.088 m_i, b = 0.000015 m_i + 0.0200 N/(km/h)^2 with m_i the
// mass rounded to 10 kg (halves down), at least 100 kg; unrounded a and b.
RegulationRow regulation_row(RegulationLoad regulation, double mass);

// Resolves a law for a bike of a total mass (kg) in air of a density (kg/m3). `front_share` is the
// share 0..1 of the weight that rests on the front wheel. For coast-down: rolling = f0/(m g),
// drag area = 2 f2/rho. For a regulation: from the row, with its inertia mass and the density of
// its reference air (1.17 kg/m3 for 40 CFR after 40 CFR 1066.310; 1.18836 kg/m3, 20 degC and 100
// kPa, for GTR 2); GTR 2's constant is divided by `front_share` to add the rear tyre.
RoadLoad resolve(const RoadLaw& law, double mass, double air_density, double front_share);

// Air density in kg/m3 at an altitude (m) and temperature (K): pressure of the standard atmosphere
// (ISO 2533:1975), ideal gas at the given temperature.
double air_density(double altitude, double temperature);

// Everything of the surroundings that a force depends on.
struct Surroundings {
  double air_density = 0;  // kg/m3
  double headwind = 0;     // m/s, negative: from behind
};

// Road force in N at speed v (m/s) for a mass (kg) on a slope of `grade` (tan): m g (Crr cos +
// sin) + linear v + 1/2 rho CdA (v + w)|v + w|. The square keeps its sign so that a tail wind
// faster than the bike pushes.
double road_force(const RoadLoad& load, const Surroundings& air, double mass, double grade,
                  double speed);

// Steepest grade (tan) on which `force` N holds a mass (kg) against rolling resistance and gravity,
// after `other` N of resistance: solves Crr cos + sin = (force - other)/(m g). Negative when it
// needs a downhill; infinity when any grade is held.
double grade_from_force(double rolling_resistance, double mass, double force, double other);

}  // namespace sprocketry::model
