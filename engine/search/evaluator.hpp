#pragma once

#include <optional>
#include <vector>

#include "model/evaluate.hpp"
#include "search/compatible.hpp"

namespace sprocketry::search {

// One motor, controller and pack prepared for all its drives.
struct PreparedLevel {
  model::Level level;
  rules::Selection parts;  // without charger and drive
  model::ShaftTorque torque;
  ExtrasCost extras;
  Money price = 0;  // motor, controller, pack, extras
};
PreparedLevel prepare_level(const Setup& setup, const Space& space, std::size_t motor,
                            std::size_t controller, std::size_t pack);

// Evaluates one combination after another in the published order of rules. Reuses its room: not
// shared between threads.
class Evaluator {
 public:
  Evaluator(const Setup& setup, const Space& space);

  // The first strength rule that rejects a level with a drive, whatever the charger, or nothing.
  std::optional<std::size_t> strength_fail(const PreparedLevel& level, const DriveOption& drive);
  // Takes up a level with a drive for a carried charger's mass (kg).
  void take(const PreparedLevel& level, const DriveOption& drive, double carried_charger_mass);
  // The objectives' figures of what was taken up, as far as they do not depend on the charger; the
  // metrics that do are those of `charger_price` and `charge_time` (s).
  const spec::Metrics& objectives(const PreparedLevel& level, const DriveOption& drive,
                                  Money charger_price, double charge_time);
  // The same with the range at an upper bound, where that is quicker to have than the range itself;
  // null where it is not, or where no objective reads the range.
  const spec::Metrics* hoped_objectives(const PreparedLevel& level, const DriveOption& drive,
                                        Money charger_price, double charge_time);
  // The index of the first speed or heat rule that rejects what was taken up, or nothing.
  std::optional<std::size_t> riding_fail(const PreparedLevel& level, const DriveOption& drive);
  // The first demand that rejects the combination with a charger of that mass, or nothing; then the
  // objectives' figures are there, others may not be.
  std::optional<std::size_t> demands_fail(const PreparedLevel& level, const DriveOption& drive,
                                          const ChargerOption& charger);
  // What was taken up, with a charger of that mass and so many portions of metrics (spec::figures),
  // whether or not a rule rejects.
  const spec::Metrics& with_charger(const PreparedLevel& level, const DriveOption& drive,
                                    const ChargerOption& charger, unsigned figures);
  // Computes the portions (spec::figures) of what was taken up that are not there yet.
  void ensure(unsigned figures);
  // Whether the range's bounds alone tell that a check holds of what was taken up, or that it does
  // not; nothing where the check does not turn on the range, or the range itself is needed, or is
  // as quick, or is there. `context` must read this evaluator's metrics().
  std::optional<bool> settled_by_range_bounds(const rules::Check& check,
                                              const rules::Context& context);
  // All metrics whether or not a rule rejects.
  const spec::Metrics& full(const PreparedLevel& level, const DriveOption& drive,
                            const ChargerOption& charger);

  [[nodiscard]] const spec::Metrics& metrics() const { return metrics_; }

 private:
  void set_drive(const PreparedLevel& level, const DriveOption& drive);
  void set_charger(const PreparedLevel& level, const DriveOption& drive,
                   const ChargerOption& charger);
  // Whether a range at least this long holds every rule that this one holds; of "objective exists",
  // whether any range will do.
  [[nodiscard]] bool turns_on_range(const rules::Check& check) const;
  const std::optional<model::RangeBounds>& range_bounds();
  std::optional<std::size_t> first_failure(const std::vector<rules::Check>& checks,
                                           const PreparedLevel& level, const DriveOption& drive);

  const Setup* setup_;
  const Space* space_;
  model::RideWork ride_work_;
  std::vector<model::RideWork> cruise_works_;
  unsigned present_ = 0;  // figures of the build at hand
  bool range_bounded_ = false;
  std::optional<model::RangeBounds> range_bounds_;  // once range_bounded_
  spec::Metrics metrics_;
  rules::Selection parts_;
  model::Build build_;
};

}  // namespace sprocketry::search
