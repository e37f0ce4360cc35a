// A window's quadrature with its kinks, against integrals in closed form.
#include "model/kinked_rule.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

struct Subject {
  Pack pack;
  ChargeWindow window;
  std::vector<double> cuts;
};

Subject random_subject(Dice& dice) {
  Subject s{make_pack(random_cell(dice), dice.between(12, 30), 1, 0.01, 500.0), {}, {}};
  s.window = charge_window(s.pack, 0.0).value();
  for (int i = 0; i < 3; ++i) {
    s.cuts.push_back(dice.between(s.window.low, s.window.high + 1e-9));
  }
  std::ranges::sort(s.cuts);
  return s;
}

// Integral over the window of g'(E) d soc, g given: E is linear in the state of charge between the
// curve's points.
template <typename Primitive, typename Value>
double exact(const Subject& s, const Primitive& g, const Value& value) {
  double sum = 0;
  for (const Stretch& part : stretches(s.pack, s.window, {})) {
    const double charge = part.high_charge - part.low_charge;
    const double rise = part.high_voltage - part.low_voltage;
    sum += rise > 0 ? charge / rise * (g(part.high_voltage) - g(part.low_voltage))
                    : charge * value(part.low_voltage);
  }
  return sum;
}

TEST(KinkedRule, IsExactForPolynomialsOfTheSeventhDegree) {
  Dice dice(61);
  for (int i = 0; i < 100; ++i) {
    const Subject s = random_subject(dice);
    KinkedRule::Room room;
    const KinkedRule rule(s.pack, s.window, s.cuts, dice.between(1.0, 30.0), room);
    const double from = s.window.low - 1.0;
    const auto value = [&](double e) { return std::pow(e - from, 7); };
    double sum = 0;
    for (std::size_t node = 0; node < rule.count(); ++node) {
      sum += rule.weight(node) * value(rule.voltage(node));
    }
    const double expected = exact(
        s, [&](double e) { return std::pow(e - from, 8) / 8; }, value);
    EXPECT_NEAR(sum, expected, 1e-11 * expected);
  }
}

TEST(KinkedRule, KnowsWhatItMissesOfAKink) {
  Dice dice(62);
  int missed = 0;
  for (int i = 0; i < 1000; ++i) {
    const Subject s = random_subject(dice);
    if (!(s.window.high > s.window.low)) continue;
    KinkedRule::Room room;
    const KinkedRule rule(s.pack, s.window, s.cuts, dice.between(1.0, 30.0), room);
    // Now and then where the window is cut, which costs nothing.
    const double kink = i % 10 == 0 ? s.cuts[1] : dice.between(s.window.low, s.window.high);
    const auto value = [&](double e) { return std::max(0.0, e - kink); };
    double sum = 0;
    std::size_t below = 0;
    for (std::size_t node = 0; node < rule.count(); ++node) {
      sum += rule.weight(node) * value(rule.voltage(node));
      below += rule.voltage(node) < kink ? 1U : 0U;
    }
    const double expected = exact(
        s, [&](double e) { return 0.5 * value(e) * value(e); }, value);
    const KinkedRule::Place place = rule.place(kink);
    EXPECT_NEAR(sum + place.missed, expected, 1e-12 * (s.window.high - s.window.low));
    EXPECT_EQ(place.above, below);
    missed += std::abs(place.missed) > 1e-9 ? 1 : 0;
    if (i % 10 == 0) {
      EXPECT_NEAR(place.missed, 0.0, 1e-12);
    }
    for (std::size_t node = 0; node < rule.count(); ++node) {
      if (rule.voltage(node) == rule.voltage(place.nearest)) continue;
      if (node / KinkedRule::kNodes != place.nearest / KinkedRule::kNodes) continue;
      EXPECT_LE(std::abs(rule.voltage(place.nearest) - kink), std::abs(rule.voltage(node) - kink));
    }
  }
  EXPECT_GE(missed, 500);
}

}  // namespace
}  // namespace sprocketry::model
