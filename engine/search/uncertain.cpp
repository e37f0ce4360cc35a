#include "search/uncertain.hpp"

#include <algorithm>
#include <array>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/triangular.hpp>
#include <boost/math/distributions/uniform.hpp>
#include <cmath>

#include "spec/spread.hpp"

namespace sprocketry::search {
namespace {

using parts::Input;
using spec::Shape;
using spec::Spread;

// How well a value is known that was taken because nothing was stated. Common practice, no source.
// What a standard lays down (a chain's pitch, pin, roller and width), what the chemistry does (a
// cell's voltages) and what is part of the question (states of charge, the pack's health) has none.
struct Usual {
  std::string_view pattern;
  Shape shape;
  bool relative;
  double amount;  // a share of the value, or SI
  std::string_view text;
};
constexpr std::array kUsual = {
    Usual{"bike.drag_area", Shape::kNormal, true, 0.10, "normal 10 %"},
    Usual{"bike.rolling_resistance", Shape::kNormal, true, 0.15, "normal 15 %"},
    Usual{"bike.wheelbase", Shape::kUniform, true, 0.05, "uniform 5 %"},
    Usual{"bike.centre_of_gravity.height", Shape::kNormal, true, 0.08, "normal 8 %"},
    Usual{"bike.centre_of_gravity.behind_front_axle", Shape::kNormal, true, 0.05, "normal 5 %"},
    Usual{"bike.accessories", Shape::kUniform, true, 0.40, "uniform 40 %"},
    Usual{"bike.wheel_inertia", Shape::kNormal, true, 0.20, "normal 20 %"},
    Usual{"bike.tyre.rollout", Shape::kUniform, true, 0.025, "uniform 2.5 %"},
    Usual{"bike.primary.efficiency", Shape::kUniform, true, 0.015, "uniform 1.5 %"},
    Usual{"conditions.air", Shape::kNormal, false, 8, "normal 8 K"},
    Usual{"conditions.altitude", Shape::kNormal, false, 100, "normal 100 m"},
    Usual{"conditions.headwind", Shape::kNormal, false, 1.5, "normal 1.5 m/s"},
    Usual{"conditions.grip", Shape::kUniform, true, 0.15, "uniform 15 %"},
    Usual{"conditions.pack.temperature", Shape::kNormal, false, 8, "normal 8 K"},
    Usual{"conditions.winding", Shape::kNormal, false, 15, "normal 15 K"},
    Usual{"motors.*.rotor_inertia", Shape::kNormal, true, 0.30, "normal 30 %"},
    Usual{"motors.*.current.for", Shape::kUniform, true, 0.30, "uniform 30 %"},
    Usual{"motors.*.thermal.resistance", Shape::kNormal, true, 0.25, "normal 25 %"},
    Usual{"motors.*.thermal.capacity", Shape::kNormal, true, 0.20, "normal 20 %"},
    Usual{"motors.*.thermal.winding_to_body", Shape::kNormal, true, 0.30, "normal 30 %"},
    Usual{"controllers.*.efficiency", Shape::kUniform, true, 0.02, "uniform 2 %"},
    Usual{"controllers.*.current.for", Shape::kUniform, true, 0.30, "uniform 30 %"},
    Usual{"cells.*.charge_efficiency", Shape::kUniform, true, 0.01, "uniform 1 %"},
    Usual{"cells.*.usable.to", Shape::kUniform, true, 0.30, "uniform 30 %"},
    Usual{"chargers.*.efficiency", Shape::kUniform, true, 0.04, "uniform 4 %"},
    Usual{"chains.*.loss", Shape::kUniform, true, 0.50, "uniform 50 %"},
    Usual{"chains.*.friction", Shape::kUniform, true, 0.40, "uniform 40 %"},
    Usual{"chains.*.mass_per_length", Shape::kUniform, true, 0.10, "uniform 10 %"},
    Usual{"chains.*.tensile_strength", Shape::kUniform, true, 0.10, "uniform 10 %"},
    Usual{"front_sprockets.*.key_strength", Shape::kNormal, true, 0.10, "normal 10 %"},
};

std::optional<Spread> usual_spread(const Input& input) {
  const auto found = std::ranges::find(kUsual, input.pattern, &Usual::pattern);
  if (input.stated || found == kUsual.end()) return std::nullopt;
  Spread spread;
  spread.path = input.path;
  spread.shape = found->shape;
  spread.relative = found->relative;
  spread.amount = found->amount;
  spread.text = found->text;
  return spread;
}

bool is_of_part(const Input& input) { return input.path != input.pattern; }

// "motors.hollin-48" of "motors.hollin-48.resistance".
std::string_view entry_of(const Input& input) {
  constexpr std::string_view kStar = ".*";
  const std::size_t rest = input.pattern.size() - (input.pattern.find(kStar) + kStar.size());
  return std::string_view(input.path).substr(0, input.path.size() - rest);
}

// A path of its own is meant before all of its kind.
const Spread* stated_spread(const std::vector<Spread>& spreads, const Input& input) {
  const auto own = std::ranges::find(spreads, input.path, &Spread::path);
  if (own != spreads.end()) return &*own;
  const auto kind = std::ranges::find(spreads, input.pattern, &Spread::path);
  return kind == spreads.end() ? nullptr : &*kind;
}

struct Ends {
  double low;
  double high;
};
Ends ends_of(const Uncertain& u, double amount) {
  return {u.spread.from.value_or(u.input.value - amount),
          u.spread.to.value_or(u.input.value + amount)};
}

template <typename Distribution>
std::vector<double> cut_off(const Distribution& distribution, const Input& input,
                            std::span<const double> shares) {
  const double low = cdf(distribution, input.min);
  const double high = cdf(distribution, input.max);
  // Only what lies in double's last digits outside is moved.
  const double least = input.above_min ? std::nextafter(input.min, input.max) : input.min;
  std::vector<double> values;
  values.reserve(shares.size());
  for (const double share : shares) {
    const double place = std::clamp(low + share * (high - low), 0x1p-60, 1 - 0x1p-53);
    values.push_back(std::clamp(quantile(distribution, place), least, input.max));
  }
  return values;
}

}  // namespace

bool concerns(const Input& input, const rules::Selection& design) {
  if (!is_of_part(input)) return true;
  const std::string_view entry = entry_of(input);
  const std::size_t dot = entry.find('.');
  const std::string_view list = entry.substr(0, dot);
  const std::string_view id = entry.substr(dot + 1);
  if (list == "motors") return id == design.motor->id;
  if (list == "controllers") return id == design.controller->id;
  if (list == "cells") return id == design.pack->cell_id;
  if (list == "chargers") return design.charger != nullptr && id == design.charger->id;
  if (list == "chains") return id == design.chain->id;
  if (list == "front_sprockets") return id == design.front->id;
  if (list == "rear_sprockets") return id == design.rear->id;
  return list == "extras";
}

std::vector<Uncertain> find_uncertain(const spec::Job& job, std::span<const Input> inputs,
                                      std::span<const rules::Selection> designs, bool usual) {
  std::vector<Uncertain> found;
  for (const Input& input : inputs) {
    if (!spec::may_be_uncertain(input.path)) continue;
    const bool read = std::ranges::any_of(
        designs, [&](const rules::Selection& design) { return concerns(input, design); });
    if (!read) continue;
    if (const Spread* stated = stated_spread(job.requirement.spreads, input)) {
      if (!stated->exact) found.push_back({input, *stated, false});
    } else if (auto spread = usual ? usual_spread(input) : std::nullopt) {
      found.push_back({input, std::move(*spread), true});
    }
  }
  // Not the one of std::ranges, whose answer clang 14 cannot compile.
  std::stable_partition(found.begin(), found.end(),
                        [](const Uncertain& u) { return !is_of_part(u.input); });
  return found;
}

std::vector<double> values_at(const Uncertain& u, std::span<const double> shares) {
  namespace math = boost::math;
  const double amount =
      u.spread.relative ? u.spread.amount * std::abs(u.input.value) : u.spread.amount;
  const Ends ends = ends_of(u, amount);
  switch (u.spread.shape) {
    case Shape::kNormal:
      break;
    case Shape::kUniform:
      return cut_off(math::uniform(ends.low, ends.high), u.input, shares);
    case Shape::kTriangular:
      return cut_off(math::triangular(ends.low, u.input.value, ends.high), u.input, shares);
  }
  return cut_off(math::normal(u.input.value, amount), u.input, shares);
}

}  // namespace sprocketry::search
