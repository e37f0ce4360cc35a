#include "design_problem.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <span>

namespace sprocketry::benchmarks {
namespace {

constexpr std::uint32_t kNoDrive = 0xffffffff;
// Beyond every objective in its output unit.
constexpr double kRejected = 1e9;
constexpr double kMisfit = 2e9;

enum Slot : std::size_t { kMotor, kController, kPack, kCharger, kChain, kFront, kRear, kSlots };

// How far a check is from being passed, in proportion to its limit: 0 to 1.
double shortfall_of(const rules::Finding& finding) {
  if (finding.unchecked() || finding.holds()) return 0;
  const double distance = std::abs(finding.value - finding.limit);
  const double size = std::max(std::abs(finding.value), std::abs(finding.limit));
  return size > 0 && distance < size ? distance / size : 1;
}

double sum_of(const std::vector<rules::Check>& checks, const rules::Context& context) {
  double sum = 0;
  for (const rules::Check& check : checks) {
    sum += shortfall_of(check.rule->check(context, check.item));
  }
  return sum;
}

}  // namespace

DesignBoard::DesignBoard(const search::Setup& setup, const search::Space& space,
                         const search::Compatible& compatible, int threads)
    : setup_(&setup),
      space_(&space),
      compatible_(&compatible),
      options_{space.motors.size(),   space.controllers.size(), space.packs.size(),
               space.chargers.size(), space.chains.size(),      space.fronts.size(),
               space.rears.size()},
      drive_index_(options_[kChain] * options_[kFront] * options_[kRear], kNoDrive),
      motor_accepts_(options_[kMotor]),
      threads_(threads),
      workers_([this] { return Worker(*setup_, *space_); }) {
  for (std::uint32_t i = 0; i < compatible.drives.size(); ++i) {
    const search::DriveOption& d = compatible.drives[i];
    drive_index_[(d.chain * options_[kFront] + d.front) * options_[kRear] + d.rear] = i;
  }
  for (std::size_t m = 0; m < options_[kMotor]; ++m) {
    motor_accepts_[m].resize(compatible.drives.size());
    for (const std::uint32_t drive : compatible.motor_drives[m]) motor_accepts_[m][drive] = true;
  }
}

std::vector<double> DesignBoard::values(const std::vector<double>& points) {
  const std::size_t count = points.size() / kSlots;
  std::vector<double> result(count * objectives());
  threads_.run([&] {
    tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) {
      value(points.data() + i * kSlots, result.data() + i * objectives());
    });
  });
  return result;
}

std::optional<std::uint32_t> DesignBoard::drive_of(const std::vector<std::size_t>& choice) const {
  const std::size_t place =
      (choice[kChain] * options_[kFront] + choice[kFront]) * options_[kRear] + choice[kRear];
  const std::uint32_t drive = drive_index_[place];
  if (drive == kNoDrive || !motor_accepts_[choice[kMotor]][drive]) return std::nullopt;
  return drive;
}

double DesignBoard::misfit(const std::vector<std::size_t>& choice) const {
  const rules::Selection parts =
      search::selection(*space_, choice[kMotor], choice[kController], choice[kPack],
                        choice[kCharger], choice[kChain], choice[kFront], choice[kRear]);
  const rules::ChainRun run = search::chain_run(*setup_->requirement, parts.chain->model,
                                                parts.front_teeth, parts.rear_teeth);
  const spec::Metrics none;
  const rules::Context context{*setup_->requirement, parts, run, none};
  return sum_of(setup_->electrical, context) + sum_of(setup_->fit, context);
}

double DesignBoard::shortfall(const search::PreparedLevel& level, const search::DriveOption& drive,
                              const search::ChargerOption& charger,
                              search::Evaluator& evaluator) const {
  rules::Selection parts = level.parts;
  parts.charger = charger.part;
  parts.chain = space_->chains[drive.chain].part;
  parts.front = space_->fronts[drive.front].family;
  parts.front_teeth = space_->fronts[drive.front].teeth;
  parts.rear = space_->rears[drive.rear].family;
  parts.rear_teeth = space_->rears[drive.rear].teeth;
  double sum = 0;
  for (const auto* checks : {&setup_->strength, &setup_->speed, &setup_->heat, &setup_->demand}) {
    for (const rules::Check& check : *checks) {
      const spec::Metrics& metrics =
          evaluator.with_charger(level, drive, charger, check.rule->reads);
      sum += shortfall_of(check.rule->check(
          {*setup_->requirement, parts, drive.run, metrics, level.torque}, check.item));
    }
  }
  return sum;
}

void DesignBoard::value(const double* point, double* result) {
  std::vector<std::size_t> choice(kSlots);
  std::transform(point, point + kSlots, choice.begin(),
                 [](double number) { return static_cast<std::size_t>(std::lround(number)); });
  const std::span values(result, objectives());
  const auto drive = drive_of(choice);
  const auto& chargers = compatible_->grid.chargers(choice[kPack]);
  const auto charger = static_cast<std::uint32_t>(choice[kCharger]);
  if (!drive || !compatible_->grid.passes(choice[kMotor], choice[kController], choice[kPack]) ||
      !std::ranges::binary_search(chargers, charger)) {
    std::ranges::fill(values, kMisfit + misfit(choice));
    return;
  }
  Worker& worker = workers_.local();
  const std::uint64_t index =
      compatible_->grid.index(choice[kMotor], choice[kController], choice[kPack]);
  auto known = worker.levels.find(index);
  if (known == worker.levels.end()) {
    known = worker.levels
                .emplace(index, search::prepare_level(*setup_, *space_, choice[kMotor],
                                                      choice[kController], choice[kPack]))
                .first;
  }
  const search::PreparedLevel& level = known->second;
  const search::DriveOption& option = compatible_->drives[*drive];
  const search::ChargerOption& with = space_->chargers[charger];
  search::Evaluator& evaluator = worker.evaluator;
  const bool weak = evaluator.strength_fail(level, option).has_value();
  evaluator.take(level, option, with.carried_mass);
  if (weak || evaluator.riding_fail(level, option) || evaluator.demands_fail(level, option, with)) {
    std::ranges::fill(values, kRejected + shortfall(level, option, with, evaluator));
    return;
  }
  search::Member member;
  member.key = {index, charger, *drive};
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double read = setup_->objectives[i]->value(evaluator.metrics());
    // Adding 0 turns -0 into 0, as the search does.
    values[i] = (setup_->objectives[i]->better == spec::Better::kLower ? read : -read) + 0.0;
    member.objectives[i] = values[i];
  }
  worker.archive.offer(member);
}

std::vector<search::Member> DesignBoard::front() {
  search::Archive all(objectives());
  for (const Worker& worker : workers_) all.merge(worker.archive);
  return all.members();
}

std::pair<pagmo::vector_double, pagmo::vector_double> DesignProblem::get_bounds() const {
  if (!board_) return {{0.0}, {1.0}};
  pagmo::vector_double highest;
  for (const std::size_t count : board_->options()) {
    highest.push_back(static_cast<double>(count) - 1.0);
  }
  return {pagmo::vector_double(highest.size(), 0.0), highest};
}

}  // namespace sprocketry::benchmarks
