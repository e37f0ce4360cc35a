#include "report/chain_load.hpp"

#include <cmath>

#include "model/constants.hpp"
#include "report/text.hpp"

namespace sprocketry::report {
namespace {

using search::Design;

constexpr double kRpmPerRadian = 60.0 / (2.0 * model::kPi);
constexpr double kKilowattPerWatt = 1e-3;

double chordal_percent(const Design& d) {
  return 100.0 * model::chordal_speed_variation(d.parts.front_teeth);
}

std::string newtons(double force) { return rounded(force, 0) + " N"; }

std::string percent(double share) { return rounded(100.0 * share, 0) + " %"; }

}  // namespace

void write_chain_load(JsonWriter& json, const Design& d) {
  json.member("chordal_percent", chordal_percent(d));
  json.member("strength_n", d.load.strength);
  json.member("pull_peak_n", d.load.peak);
  json.member("pull_continuous_n", d.load.continuous);
  json.member("steady_power_kw", d.duty.power * kKilowattPerWatt);
  json.member("steady_front_rpm", d.duty.speed * kRpmPerRadian);
  json.member("power_capacity_kw", d.duty.capacity * kKilowattPerWatt);
  json.member("galling_rpm", d.duty.galling * kRpmPerRadian);
}

void write_chain_load(std::ostream& out, const Design& d) {
  const rules::ChainLoad& load = d.load;
  out << "  chain pull     peak " << newtons(load.peak) << ", continuous "
      << newtons(load.continuous);
  if (!std::isnan(load.strength)) {
    out << ": " << percent(load.peak / load.strength) << " and "
        << percent(load.continuous / load.strength) << " of the least breaking load of "
        << newtons(load.strength);
  }
  out << "\n  chain speed    varies by " << rounded(chordal_percent(d), 1)
      << " % with each tooth of the front sprocket\n";
}

}  // namespace sprocketry::report
