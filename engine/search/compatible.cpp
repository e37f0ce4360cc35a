#include "search/compatible.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>
#include <unordered_map>

#include "parts/interchange.hpp"

namespace sprocketry::search {
namespace {

using rules::Check;
namespace slot = rules::slot;

constexpr std::size_t kPasses = kNoRule;

// Checks split by whether they read any of some slots.
std::vector<Check> reading(const std::vector<Check>& checks, unsigned slots, bool wanted) {
  std::vector<Check> result;
  std::ranges::copy_if(checks, std::back_inserter(result), [&](const Check& check) {
    return ((check.rule->reads & slots) != 0) == wanted;
  });
  return result;
}

const spec::Metrics& no_metrics() {
  static const spec::Metrics kNoMetrics;
  return kNoMetrics;
}

const rules::ChainRun kNoRun{};

struct FailureCounts {
  std::unordered_map<std::size_t, Count> by_rule;
};

// Drives that pass, and per front option how its chains and rears fail.
struct DriveCut {
  std::vector<DriveOption> drives;
  std::vector<FailureCounts> of_front;
};

// Chain runs of one chain by the two tooth counts; families share them.
class RunCache {
 public:
  const rules::ChainRun& get(const spec::Requirement& requirement, const model::Chain& chain,
                             int front, int rear) {
    const auto [place, fresh] = runs_.try_emplace(front * 1000 + rear);
    if (fresh) place->second = chain_run(requirement, chain, front, rear);
    return place->second;
  }

 private:
  std::unordered_map<int, rules::ChainRun> runs_;
};

// Which of some sprocket options a chain is not refused on.
template <typename Option>
std::vector<bool> entered(const parts::ChainPart& chain, const std::vector<Option>& options) {
  std::vector<bool> result;
  for (std::size_t i = 0; i < options.size(); ++i) {
    // Options of a family follow each other.
    const bool same = i > 0 && options[i].family == options[i - 1].family;
    result.push_back(same ? result.back()
                          : parts::interchange(chain, options[i].family->size) !=
                                parts::Interchange::kRefused);
  }
  return result;
}

std::vector<std::uint32_t> places(const std::vector<bool>& wanted) {
  std::vector<std::uint32_t> result;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    if (wanted[i]) result.push_back(static_cast<std::uint32_t>(i));
  }
  return result;
}

DriveCut cut_drives(const Setup& setup, const Space& space) {
  const std::vector<Check> checks = reading(setup.fit, slot::kMotor, false);
  // The first of them is whether the chain enters both sprockets, which hangs on sizes alone: it is
  // decided by size, and whole rows of pairs are counted under it. It is left out where somebody
  // asks what the other rules reject.
  const bool size_is_asked = !checks.empty() && checks.front().rule->name == "chain size";
  const std::size_t refused = size_is_asked ? checks.front().index : kPasses;
  const std::vector<Check> others(checks.begin() + (size_is_asked ? 1 : 0), checks.end());
  DriveCut cut;
  cut.of_front.resize(space.fronts.size());
  for (std::size_t c = 0; c < space.chains.size(); ++c) {
    const parts::ChainPart& chain = *space.chains[c].part;
    const auto enters = [&](const auto& options) {
      return size_is_asked ? entered(chain, options) : std::vector<bool>(options.size(), true);
    };
    const std::vector<bool> on_front = enters(space.fronts);
    const std::vector<std::uint32_t> rears = places(enters(space.rears));
    RunCache runs;
    for (std::size_t f = 0; f < space.fronts.size(); ++f) {
      auto& counts = cut.of_front[f].by_rule;
      const std::size_t tried = on_front[f] ? rears.size() : 0;
      if (tried < space.rears.size()) counts[refused] += space.rears.size() - tried;
      for (std::size_t i = 0; i < tried; ++i) {
        const std::size_t r = rears[i];
        rules::Selection s;
        s.chain = &chain;
        s.front = space.fronts[f].family;
        s.front_teeth = space.fronts[f].teeth;
        s.rear = space.rears[r].family;
        s.rear_teeth = space.rears[r].teeth;
        const rules::ChainRun& run =
            runs.get(*setup.requirement, chain.model, s.front_teeth, s.rear_teeth);
        const std::size_t failure =
            first_failure(others, {*setup.requirement, s, run, no_metrics()});
        ++counts[failure];
        if (failure == kPasses) cut.drives.push_back(make_drive(space, c, f, r, run));
      }
    }
  }
  return cut;
}

// First failing rule of each (motor, front) pair, [motor][front].
std::vector<std::vector<std::size_t>> motor_front_failures(const Setup& setup, const Space& space) {
  const std::vector<Check> checks = reading(setup.fit, slot::kMotor, true);
  std::vector<std::vector<std::size_t>> failures;
  for (const MotorOption& motor : space.motors) {
    auto& row = failures.emplace_back();
    for (const FrontOption& front : space.fronts) {
      rules::Selection s;
      s.motor = motor.part;
      s.front = front.family;
      s.front_teeth = front.teeth;
      row.push_back(first_failure(checks, {*setup.requirement, s, kNoRun, no_metrics()}));
    }
  }
  return failures;
}

// Counts what one motor's fronts reject: a front that does not fit the shaft rejects all of its
// chains and rears, except those that an earlier rule had rejected already.
void count_fit(const DriveCut& cut, const std::vector<std::size_t>& motor_front, Count levels,
               Compatible& result) {
  for (std::size_t f = 0; f < cut.of_front.size(); ++f) {
    for (const auto& [failure, count] : cut.of_front[f].by_rule) {
      const std::size_t first = std::min(failure, motor_front[f]);
      if (first != kPasses) result.rejected[first] += count * levels;
    }
  }
}

MotorDrives share_drives(const std::vector<DriveOption>& drives,
                         const std::vector<std::vector<std::size_t>>& motor_front) {
  MotorDrives result;
  std::map<std::vector<bool>, std::uint32_t> known;  // by the fronts that fit
  for (const std::vector<std::size_t>& failures : motor_front) {
    std::vector<bool> fits;
    fits.reserve(failures.size());
    for (const std::size_t failure : failures) fits.push_back(failure == kPasses);
    const auto [place, fresh] =
        known.try_emplace(fits, static_cast<std::uint32_t>(result.lists.size()));
    result.of_motor.push_back(place->second);
    if (!fresh) continue;
    auto& list = result.lists.emplace_back();
    for (std::size_t d = 0; d < drives.size(); ++d) {
      if (fits[drives[d].front]) list.push_back(static_cast<std::uint32_t>(d));
    }
  }
  return result;
}

// Links that go round two sprockets at the longest centre distance, for a pick that has no chain
// inside the adjuster's travel: somebody will ask what it would weigh and cost. 0 when the pitch
// circles overlap.
int links_around(const spec::Requirement& requirement, const model::Chain& chain, int front,
                 int rear) {
  const double length =
      model::chain_length(chain.pitch, front, rear, requirement.bike.max_centre_distance);
  const int step = requirement.choose.half_links ? 1 : 2;
  return std::isfinite(length) ? static_cast<int>(std::ceil(length / step)) * step : 0;
}

}  // namespace

DriveOption make_drive(const Space& space, std::size_t chain, std::size_t front, std::size_t rear,
                       const rules::ChainRun& run) {
  const ChainOption& c = space.chains[chain];
  const int links = run.fit ? run.fit->links
                            : links_around(*space.requirement, c.part->model,
                                           space.fronts[front].teeth, space.rears[rear].teeth);
  DriveOption d;
  d.chain = static_cast<std::uint32_t>(chain);
  d.front = static_cast<std::uint32_t>(front);
  d.rear = static_cast<std::uint32_t>(rear);
  d.run = run;
  d.gearing = model::gearing(run.total_reduction, run.total_efficiency,
                             space.requirement->bike.rolling_circumference);
  d.chain_mass = chain_mass(*c.part, links);
  d.price = chain_price(c, links) + space.fronts[front].price + space.rears[rear].price;
  if (space.requirement->bike.primary) d.price += space.requirement->bike.primary->price;
  return d;
}

rules::Selection selection(const Space& space, std::size_t motor, std::size_t controller,
                           std::size_t pack, std::size_t charger, std::size_t chain,
                           std::size_t front, std::size_t rear) {
  return {
      space.motors[motor].part,     space.controllers[controller].part, &space.packs[pack].part,
      space.chargers[charger].part, space.chains[chain].part,           space.fronts[front].family,
      space.fronts[front].teeth,    space.rears[rear].family,           space.rears[rear].teeth};
}

Count Compatible::combinations() const {
  Count total = 0;
  for (std::size_t m = 0; m < passing.size(); ++m) total += passing[m] * motor_drives[m].size();
  return total;
}

Compatible make_compatible(const Setup& setup, const Space& space) {
  Compatible result{LevelGrid(setup, space), {}, {}, {}, {}};
  result.rejected.resize(rules::rule_table().size());
  const Count drives = Count{space.chains.size()} * space.fronts.size() * space.rears.size();
  result.passing = result.grid.count(drives, result.rejected);
  DriveCut cut = cut_drives(setup, space);
  const auto motor_front = motor_front_failures(setup, space);
  result.drives = std::move(cut.drives);
  for (std::size_t m = 0; m < space.motors.size(); ++m) {
    count_fit(cut, motor_front[m], result.passing[m], result);
  }
  result.motor_drives = share_drives(result.drives, motor_front);
  return result;
}

std::vector<LevelOption> list_levels(const Compatible& compatible, const Space& space) {
  std::vector<LevelOption> levels;
  for (std::size_t m = 0; m < space.motors.size(); ++m) {
    if (compatible.motor_drives[m].empty()) continue;
    for (std::size_t c = 0; c < space.controllers.size(); ++c) {
      for (std::size_t p = 0; p < space.packs.size(); ++p) {
        if (compatible.grid.chargers(p).empty() || !compatible.grid.passes(m, c, p)) continue;
        levels.push_back({static_cast<std::uint32_t>(m), static_cast<std::uint32_t>(c),
                          static_cast<std::uint32_t>(p)});
      }
    }
  }
  return levels;
}

}  // namespace sprocketry::search
