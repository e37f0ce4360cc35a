#include <map>

#include "spec/cycles.hpp"
#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::riding;

constexpr std::string_view kDefaultCycle = "r40-urban";

model::Profile profile_of(const Cycle& cycle) {
  model::Profile profile;
  for (std::size_t i = 0; i < cycle.time.size(); ++i) {
    profile.push_back({cycle.time[i], cycle.speed[i], 0});
  }
  return profile;
}

void read_cycle(const document::Node& node, Findings& findings, Requirement& requirement) {
  std::vector<std::string_view> ids;
  for (const Cycle& cycle : cycles()) ids.push_back(cycle.id);
  const auto found = parts::read_choice(node, "cycle", ids, findings);
  if (!found) return;
  requirement.ride_name = ids[*found];
  requirement.ride = profile_of(*find_cycle(ids[*found]));
}

void read_steady(Reader& ride, Requirement& requirement) {
  const auto speed = ride.optional_quantity("steady", rule::kSpeed);
  if (!speed) return;
  requirement.ride_name = "steady " + ride.take("steady")->scalar;
  // One second; range and consumption do not depend on the length of a steady ride.
  requirement.ride = {{0, *speed, 0}, {1, *speed, 0}};
}

void read_trace_file(const document::Node& node, const Surrounding& around, Findings& findings,
                     Requirement& requirement) {
  const auto name = parts::read_text(node, "trace", findings);
  if (!name) return;
  requirement.ride_name = *name;
  if (around.trace != nullptr) {
    const auto table = document::parse_csv(*around.trace, findings.diagnostics);
    if (table) requirement.ride = spec::read_trace(*table, findings);
    return;
  }
  const std::string shown = (around.shown_folder / *name).string();
  requirement.ride = load_trace(around.folder / *name, shown, node.mark, findings);
}

void use_default(Reader& root, Requirement& requirement) {
  requirement.ride_name = kDefaultCycle;
  const Cycle* cycle = find_cycle(kDefaultCycle);
  requirement.ride = profile_of(*cycle);
  root.record_default("ride.cycle", std::string(kDefaultCycle), cycle->regulation);
}

// A speed given twice, in whatever unit, is a slip.
void read_cruise(Reader& root, std::vector<double>& cruise) {
  const auto* items = root.optional_list("cruise", "[40 km/h, 70 km/h]");
  if (items == nullptr) return;
  std::map<double, document::Mark> first;
  for (const document::Node& item : *items) {
    const auto speed = parts::read_quantity(item, "cruise", rule::kSpeed, root.findings());
    if (!speed) continue;
    const auto [same, fresh] = first.try_emplace(*speed, item.mark);
    if (fresh) {
      cruise.push_back(*speed);
      continue;
    }
    root.findings().diagnostics.add({document::Severity::kError, item.mark,
                                     "the speed " + item.scalar + " is named twice", "name it once",
                                     same->second, "first named here"});
  }
}

}  // namespace

void read_ride(Reader& root, const Surrounding& around, Requirement& requirement) {
  auto ride = root.optional_map("ride", "`ride`",
                                "{cycle: r40-urban}, {steady: 40 km/h} or {trace: ride.csv}");
  if (!ride) {
    if (!root.has("ride")) use_default(root, requirement);
    return;
  }
  const document::Node* cycle = ride->take("cycle");
  const document::Node* steady = ride->take("steady");
  const document::Node* trace = ride->take("trace");
  const int given = static_cast<int>(ride->has("cycle")) + static_cast<int>(ride->has("steady")) +
                    static_cast<int>(ride->has("trace"));
  if (ride->is_map() && given != 1) {
    root.error("ride", given == 0 ? "`ride` names no ride" : "`ride` names more than one ride",
               "write one of {cycle: r40-urban}, {steady: 40 km/h}, {trace: ride.csv}");
  } else if (cycle != nullptr) {
    read_cycle(*cycle, root.findings(), requirement);
  } else if (steady != nullptr) {
    read_steady(*ride, requirement);
  } else if (trace != nullptr) {
    read_trace_file(*trace, around, root.findings(), requirement);
  }
  ride->finish();
}

void read_speeds(Reader& root, Requirement& requirement) {
  read_cruise(root, requirement.cruise);
  const auto* changes = root.optional_list("accelerations", "[{from: 40 km/h, to: 70 km/h}]");
  if (changes == nullptr) return;
  for (const document::Node& item : *changes) {
    Reader change(item, item.mark, "accelerations", "an entry of `accelerations`", root.findings());
    const auto from = change.quantity("from", rule::kStartSpeed);
    const auto to = change.quantity("to", rule::kSpeed);
    change.check_ascending("from", from, "to", to, "an acceleration goes from slower to faster",
                           true);
    change.finish();
    if (from && to) requirement.accelerations.push_back({*from, *to});
  }
}

}  // namespace sprocketry::spec
