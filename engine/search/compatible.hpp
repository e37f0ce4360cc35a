#pragma once

#include <cstdint>
#include <vector>

#include "model/traction.hpp"
#include "search/level_grid.hpp"
#include "search/setup.hpp"
#include "search/space.hpp"

namespace sprocketry::search {

// A chain with both sprockets that passes the fit rules which do not read the motor. Indices into
// the space.
struct DriveOption {
  std::uint32_t chain = 0;
  std::uint32_t front = 0;
  std::uint32_t rear = 0;
  rules::ChainRun run;
  model::Gearing gearing;
  double chain_mass = 0;  // kg
  Money price = 0;        // chain, both sprockets and the primary, if there is one
};
// Builds it; a run without a fit is weighed and priced with the next whole (even) link count that
// goes round at the longest centre distance.
DriveOption make_drive(const Space& space, std::size_t chain, std::size_t front, std::size_t rear,
                       const rules::ChainRun& run);

// A motor, controller and pack that pass the electrical rules with at least one charger.
struct LevelOption {
  std::uint32_t motor = 0;
  std::uint32_t controller = 0;
  std::uint32_t pack = 0;
};

// Per motor the drives that fit its shaft, as indices into Compatible::drives, ascending. Motors
// that take the same front sprockets share a list.
struct MotorDrives {
  std::vector<std::vector<std::uint32_t>> lists;
  std::vector<std::uint32_t> of_motor;  // which list

  [[nodiscard]] const std::vector<std::uint32_t>& operator[](std::size_t motor) const {
    return lists[of_motor[motor]];
  }
};

// What is left of a space after the pairwise rules, with the account of what they rejected. Only
// the motor joins levels and drives, so the combinations are, motor by motor, the levels' chargers
// times the motor's drives; whole subtrees are counted without being listed.
struct Compatible {
  LevelGrid grid;
  std::vector<Count> passing;       // per motor, (controller, pack, charger) that pass with it
  std::vector<DriveOption> drives;  // in ascending order of chain, front, rear
  MotorDrives motor_drives;
  std::vector<Count> rejected;               // per rule of the table
  [[nodiscard]] Count combinations() const;  // that passed
};
Compatible make_compatible(const Setup& setup, const Space& space);

// The levels that have a drive, in ascending order of motor, controller, pack. For spaces that are
// small enough to be listed.
std::vector<LevelOption> list_levels(const Compatible& compatible, const Space& space);

// The parts of a combination as the rules read them.
rules::Selection selection(const Space& space, std::size_t motor, std::size_t controller,
                           std::size_t pack, std::size_t charger, std::size_t chain,
                           std::size_t front, std::size_t rear);

}  // namespace sprocketry::search
