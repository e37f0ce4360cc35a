// Road load against the tables of two regulations, lecture examples and closed forms. "Seen": read
// in a public copy of the text; "from memory": recalled from the named publication; "computed":
// recalculated elsewhere from stated inputs, not printed in a source.
#include <gtest/gtest.h>

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>

#include "model/constants.hpp"
#include "model/road.hpp"

namespace sprocketry::model {
namespace {

constexpr double kKmH = 1.0 / 3.6;    // m/s
constexpr double kPerKmH2 = 12.96;    // N/(km/h)^2 to N/(m/s)^2
constexpr double kCfrDensity = 1.17;  // kg/m3, 40 CFR 1066.310 (seen)

// Seconds that a rolling bike takes from one speed down to another (m/s), by quadrature of
// effective mass over road_force().
double coast_down_time(const RoadLoad& load, const Surroundings& air, double mass,
                       double effective_mass, double from, double to) {
  const auto per_speed = [&](double v) {
    return effective_mass / road_force(load, air, mass, 0, v);
  };
  return boost::math::quadrature::gauss_kronrod<double, 31>::integrate(per_speed, to, from, 10,
                                                                       1e-12);
}

struct CfrFigure {
  double mass, a, c, force_65, time;  // kg, N, N/(km/h)^2, N, s from 70 to 60 km/h
};

// 40 CFR 86.529-98, Figure F98-9, all 25 rows (seen).
constexpr CfrFigure kCfrTable[] = {
    {100, 0.0, .0224, 94.8, 2.95},    {110, 0.82, .0227, 96.8, 3.18},
    {120, 1.70, .0230, 98.8, 3.39},   {130, 2.57, .0233, 100.9, 3.60},
    {140, 3.44, .0235, 102.9, 3.80},  {150, 4.32, .0238, 104.9, 3.99},
    {160, 5.19, .0241, 107.0, 4.10},  {170, 6.06, .0244, 109.0, 4.36},
    {180, 6.94, .0246, 111.0, 4.53},  {190, 7.81, .0249, 113.1, 4.69},
    {200, 8.69, .0252, 115.1, 4.85},  {210, 9.56, .0255, 117.1, 5.00},
    {220, 10.43, .0257, 119.2, 5.15}, {230, 11.31, .0260, 121.2, 5.30},
    {240, 12.18, .0263, 123.2, 5.43}, {250, 13.06, .0266, 125.3, 5.57},
    {260, 13.93, .0268, 127.3, 5.70}, {270, 14.80, .0271, 129.3, 5.82},
    {280, 15.68, .0274, 131.4, 5.95}, {290, 16.55, .0277, 133.4, 6.06},
    {300, 17.43, .0279, 135.4, 6.18}, {310, 18.30, .0282, 137.5, 6.29},
    {320, 19.17, .0285, 139.5, 6.40}, {330, 20.05, .0288, 141.6, 6.50},
    {340, 20.92, .0290, 143.6, 6.60},
};

// The row of 160 kg prints 4.10 s, which breaks the series 3.99, 4.10, 4.36 and lies off the centre
// of the tolerance band 4.0 to 4.4 s that is printed beside it: a misprint for 4.18 s.
constexpr double kMisprintedMass = 160;
double published_time(const CfrFigure& row) {
  return row.mass == kMisprintedMass ? 4.18 : row.time;
}

TEST(CfrRoadLoad, HasTheTablesCoefficients) {
  for (const CfrFigure& row : kCfrTable) {
    SCOPED_TRACE(row.mass);
    const RegulationRow got = regulation_row(RegulationLoad::kCfr40Part86, row.mass);
    EXPECT_EQ(got.inertia_mass, row.mass);
    EXPECT_NEAR(got.constant, row.a, 1e-12);
    EXPECT_NEAR(got.quadratic, row.c * kPerKmH2, 1e-12);
    // The printed force at 65 km/h; 0.2 N is what rounding C to 0.0001 makes of it.
    EXPECT_NEAR(got.constant + got.quadratic * std::pow(65 * kKmH, 2), row.force_65, 0.21);
  }
}

TEST(CfrRoadLoad, TakesTheRowOfTheBandThatTheMassLiesIn) {
  // 40 CFR 86.529-98 (seen): 95 to 105 kg is 100 kg, 106 to 115 kg is 110 kg, and so on.
  const auto row = [](double mass) {
    return regulation_row(RegulationLoad::kCfr40Part86, mass).inertia_mass;
  };
  EXPECT_EQ(row(95), 100);
  EXPECT_EQ(row(105), 100);
  EXPECT_EQ(row(106), 110);
  EXPECT_EQ(row(115), 110);
  EXPECT_EQ(row(116), 120);
  EXPECT_EQ(row(335), 330);
  EXPECT_EQ(row(336), 340);
  EXPECT_EQ(row(345), 340);
}

TEST(CfrRoadLoad, GivesThePublishedCoastDownTimesByTheArcTangent) {
  for (const CfrFigure& figure : kCfrTable) {
    SCOPED_TRACE(figure.mass);
    const RegulationRow row = regulation_row(RegulationLoad::kCfr40Part86, figure.mass);
    const double fast = 70 * kKmH;
    const double slow = 60 * kKmH;
    double time = row.inertia_mass / row.quadratic * (1 / slow - 1 / fast);
    if (row.constant > 0) {
      const double k = std::sqrt(row.quadratic / row.constant);
      time = row.inertia_mass / std::sqrt(row.constant * row.quadratic) *
             (std::atan(fast * k) - std::atan(slow * k));
    }
    EXPECT_NEAR(time, published_time(figure), 0.02);
  }
}

TEST(CfrRoadLoad, GivesThePublishedCoastDownTimesByIntegratingTheForce) {
  for (const CfrFigure& figure : kCfrTable) {
    SCOPED_TRACE(figure.mass);
    const RoadLoad load = resolve(RegulationLoad::kCfr40Part86, figure.mass, kCfrDensity, 0.5);
    const double time =
        coast_down_time(load, {kCfrDensity, 0}, figure.mass, figure.mass, 70 * kKmH, 60 * kKmH);
    EXPECT_NEAR(time, published_time(figure), 0.02);
  }
}

TEST(CfrRoadLoad, SaysThatThe160KilogramRowIsAMisprint) {
  // 4.1752 s (computed) against 4.10 s printed (seen): 0.075 s, seven times the next worst row.
  const RoadLoad load = resolve(RegulationLoad::kCfr40Part86, 160, kCfrDensity, 0.5);
  const double time = coast_down_time(load, {kCfrDensity, 0}, 160, 160, 70 * kKmH, 60 * kKmH);
  EXPECT_NEAR(time, 4.1752, 5e-5);
  EXPECT_GT(time - 4.10, 0.07);
}

struct Gtr2Figure {
  double mass, a, b, force_50, force_90;  // kg, N, N/(km/h)^2, N, N
};

// UN GTR 2, table of running resistance (from memory; the rows follow from a = 0.088 m and
// b = 0.000015 m + 0.02, rounded half up to 0.1 N and 0.0001).
constexpr Gtr2Figure kGtr2Table[] = {
    {100, 8.8, 0.0215, 62.55, 182.95},  {110, 9.7, 0.0217, 63.95, 185.47},
    {120, 10.6, 0.0218, 65.10, 187.18}, {130, 11.4, 0.0220, 66.40, 189.60},
    {140, 12.3, 0.0221, 67.55, 191.31}, {150, 13.2, 0.0223, 68.95, 193.83},
    {160, 14.1, 0.0224, 70.10, 195.54}, {170, 15.0, 0.0226, 71.50, 198.06},
    {180, 15.8, 0.0227, 72.55, 199.67}, {190, 16.7, 0.0229, 73.95, 202.19},
    {200, 17.6, 0.0230, 75.10, 203.90}, {210, 18.5, 0.0232, 76.50, 206.42},
    {220, 19.4, 0.0233, 77.65, 208.13}, {230, 20.2, 0.0235, 78.95, 210.55},
    {240, 21.1, 0.0236, 80.10, 212.26}, {250, 22.0, 0.0238, 81.50, 214.78},
    {260, 22.9, 0.0239, 82.65, 216.49}, {270, 23.8, 0.0241, 84.05, 219.01},
    {280, 24.6, 0.0242, 85.10, 220.62}, {290, 25.5, 0.0244, 86.50, 223.14},
    {300, 26.4, 0.0245, 87.65, 224.85},
};

TEST(Gtr2RoadLoad, AgreesWithTheTableWithinItsRounding) {
  constexpr double kHalfTenth = 0.05 + 1e-9;      // N
  constexpr double kHalfDigit = 0.00005 + 1e-12;  // N/(km/h)^2
  for (const Gtr2Figure& figure : kGtr2Table) {
    SCOPED_TRACE(figure.mass);
    const RegulationRow row = regulation_row(RegulationLoad::kUnGtr2, figure.mass);
    EXPECT_EQ(row.inertia_mass, figure.mass);
    EXPECT_NEAR(row.constant, figure.a, kHalfTenth);
    EXPECT_NEAR(row.quadratic / kPerKmH2, figure.b, kHalfDigit);
    const auto force = [&](double km_h) {
      return row.constant + row.quadratic * std::pow(km_h * kKmH, 2);
    };
    EXPECT_NEAR(force(50), figure.force_50, kHalfTenth + 2500 * kHalfDigit);
    EXPECT_NEAR(force(90), figure.force_90, kHalfTenth + 8100 * kHalfDigit);
    // Bands are open below and closed above: 105 < m <= 115 is 110 kg.
    EXPECT_EQ(regulation_row(RegulationLoad::kUnGtr2, figure.mass + 5).inertia_mass, figure.mass);
    EXPECT_EQ(regulation_row(RegulationLoad::kUnGtr2, figure.mass + 5.01).inertia_mass,
              figure.mass + 10);
  }
}

TEST(Gtr2RoadLoad, ImpliesTheDragAreaOfItsReferenceAir) {
  // Dry air at 20 degC and 100 kPa (computed with 1.1884 kg/m3; the engine has 1.18836).
  const auto drag_area = [](double mass) {
    return resolve(RegulationLoad::kUnGtr2, mass, 1.2, 0.5).drag_area;
  };
  EXPECT_NEAR(drag_area(100), 0.46893, 2.5e-5);
  EXPECT_NEAR(drag_area(200), 0.50165, 2.5e-5);
  EXPECT_NEAR(drag_area(300), 0.53437, 2.5e-5);
}

TEST(Gtr2RoadLoad, AddsTheRearTyreToTheFrontWheelsRollingResistance) {
  // The table's constant is the rolling resistance of the front wheel (UN GTR 2 6.5.6.2, seen); of
  // the whole weight it is 0.0089735 (computed), so with half the weight in front the two tyres
  // together roll at twice that.
  const RoadLoad load = resolve(RegulationLoad::kUnGtr2, 200, 1.2, 0.5);
  EXPECT_NEAR(load.rolling_resistance, 2 * 0.0089735, 1e-7);
}

TEST(CoastDown, OfClosedFormTakesTheComputedTimesAndDistances) {
  // m = 250 kg (effective), R = 0.015 x 230 kg, c = 0.30625 N s2/m2 (computed, closed form).
  const RoadLoad load{0.015, 0, 0.5};
  const Surroundings air{1.225, 0};
  const auto time = [&](double from, double to) {
    return coast_down_time(load, air, 230, 250, from * kKmH, to * kKmH);
  };
  EXPECT_NEAR(time(80, 20), 49.9208080, 1e-6);
  EXPECT_NEAR(time(80, 0), 87.6848342, 1e-6);
  const auto way = [&](double v) { return 250 * v / road_force(load, air, 230, 0, v); };
  using Rule = boost::math::quadrature::gauss_kronrod<double, 31>;
  EXPECT_NEAR(Rule::integrate(way, 20 * kKmH, 80 * kKmH, 10, 1e-12), 593.025366, 1e-5);
  EXPECT_NEAR(Rule::integrate(way, 0.0, 80 * kKmH, 10, 1e-12), 693.586009, 1e-5);
}

TEST(CoastDown, CoefficientsGiveBackTheTimesThatTheyWereMeasuredFrom) {
  // f0 = 24 N, f2 = 0.030 N/(km/h)^2, 240 kg and 11.55 kg of wheels, windows of +-10 and +-5 km/h
  // as in UN GTR 2 (times computed, closed form).
  const CoastDown measured{24, 0, 0.030 * kPerKmH2, 240, 1.18836};
  const RoadLoad load = resolve(measured, 300, 1.1, 0.5);
  const auto time = [&](double middle, double half_window) {
    return coast_down_time(load, {1.18836, 0}, 240, 251.55, (middle + half_window) * kKmH,
                           (middle - half_window) * kKmH);
  };
  EXPECT_NEAR(time(100, 10), 4.34953, 5e-6);
  EXPECT_NEAR(time(80, 10), 6.54720, 5e-6);
  EXPECT_NEAR(time(60, 10), 10.77148, 5e-6);
  EXPECT_NEAR(time(40, 5), 9.76104, 5e-6);
  EXPECT_NEAR(time(20, 5), 19.45261, 5e-6);
}

}  // namespace
}  // namespace sprocketry::model
