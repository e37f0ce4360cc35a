#include "search/search.hpp"

#include <tbb/blocked_range.h>
#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "search/evaluator.hpp"

namespace sprocketry::search {
namespace {

// A piece of work: some of a level's drives.
struct Piece {
  std::uint32_t level = 0;
  std::uint32_t first_drive = 0;  // into the motor's list
  std::uint32_t last_drive = 0;
};

std::vector<Piece> make_pieces(const Compatible& compatible) {
  constexpr std::size_t kDrivesPerPiece = 2048;
  std::vector<Piece> pieces;
  for (std::size_t l = 0; l < compatible.levels.size(); ++l) {
    const std::size_t drives = compatible.motor_drives[compatible.levels[l].motor].size();
    for (std::size_t first = 0; first < drives; first += kDrivesPerPiece) {
      pieces.push_back({static_cast<std::uint32_t>(l), static_cast<std::uint32_t>(first),
                        static_cast<std::uint32_t>(std::min(drives, first + kDrivesPerPiece))});
    }
  }
  return pieces;
}

// A level's chargers that weigh the same on the bike and so share all physics.
struct ChargerGroup {
  double carried_mass = 0;
  std::vector<std::uint32_t> chargers;
};

std::vector<ChargerGroup> group_chargers(const Space& space, const LevelOption& level) {
  std::vector<ChargerGroup> groups;
  for (const std::uint32_t h : level.chargers) {
    const double mass = space.chargers[h].carried_mass;
    const auto same = std::ranges::find(groups, mass, &ChargerGroup::carried_mass);
    if (same != groups.end()) {
      same->chargers.push_back(h);
    } else {
      groups.push_back({mass, {h}});
    }
  }
  return groups;
}

// One thread's share.
struct Worker {
  Evaluator evaluator;
  Archive archive;
  std::vector<Count> rejected;
  Count evaluated = 0;

  Worker(const Setup& setup, const Space& space)
      : evaluator(setup, space),
        archive(setup.objectives.size()),
        rejected(rules::rule_table().size()) {}
};

Member make_member(const Setup& setup, const spec::Metrics& metrics, const Key& key) {
  Member member;
  member.key = key;
  for (std::size_t i = 0; i < setup.objectives.size(); ++i) {
    const double value = setup.objectives[i]->value(metrics);
    // Adding 0 turns -0 into 0, so that equal values are equal bits.
    member.objectives[i] =
        (setup.objectives[i]->better == spec::Better::kLower ? value : -value) + 0.0;
  }
  return member;
}

void run(const Setup& setup, const Space& space, const Compatible& compatible, const Piece& piece,
         Worker& worker) {
  const LevelOption& option = compatible.levels[piece.level];
  const PreparedLevel level =
      prepare_level(setup, space, option.motor, option.controller, option.pack);
  const std::vector<ChargerGroup> groups = group_chargers(space, option);
  const auto& drives = compatible.motor_drives[option.motor];
  for (std::uint32_t i = piece.first_drive; i < piece.last_drive; ++i) {
    const DriveOption& drive = compatible.drives[drives[i]];
    if (const auto failed = worker.evaluator.strength_fail(level, drive)) {
      worker.rejected[*failed] += option.chargers.size();
      continue;
    }
    for (const ChargerGroup& group : groups) {
      if (const auto failed = worker.evaluator.riding_fail(level, drive, group.carried_mass)) {
        worker.rejected[*failed] += group.chargers.size();
        continue;
      }
      for (const std::uint32_t h : group.chargers) {
        if (const auto failed = worker.evaluator.demands_fail(level, drive, space.chargers[h])) {
          ++worker.rejected[*failed];
          continue;
        }
        ++worker.evaluated;
        worker.archive.offer(
            make_member(setup, worker.evaluator.metrics(), {piece.level, h, drives[i]}));
      }
    }
  }
}

void check_account(const Account& account) {
  Count sum = account.evaluated + account.pruned;
  for (const Count count : account.rejected) sum += count;
  if (sum != account.combinations) {
    throw std::logic_error("the account of combinations does not add up");
  }
}

void fill_ordered(const Compatible& compatible, std::vector<Member> members, Front& front) {
  std::ranges::sort(members, [](const Member& a, const Member& b) {
    return a.objectives != b.objectives ? a.objectives < b.objectives : a.key < b.key;
  });
  for (const Member& member : members) {
    const LevelOption& level = compatible.levels[member.key.level];
    const DriveOption& drive = compatible.drives[member.key.drive];
    front.members.push_back({level.motor, level.controller, level.pack, member.key.charger,
                             drive.chain, drive.front, drive.rear});
    front.objectives.push_back(member.objectives);
  }
}

}  // namespace

Front search(const Setup& setup, const Space& space, int threads) {
  const Compatible compatible = make_compatible(setup, space);
  const std::vector<Piece> pieces = make_pieces(compatible);
  tbb::enumerable_thread_specific<Worker> workers([&] { return Worker(setup, space); });
  tbb::task_arena arena(threads > 0 ? threads : tbb::task_arena::automatic);
  arena.execute([&] {
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, pieces.size(), 1), [&](const auto& r) {
      Worker& worker = workers.local();
      for (std::size_t i = r.begin(); i < r.end(); ++i) {
        run(setup, space, compatible, pieces[i], worker);
      }
    });
  });
  Front front;
  front.account.combinations = space.combinations();
  front.account.rejected = compatible.rejected;
  Archive archive(setup.objectives.size());
  for (const Worker& worker : workers) {
    archive.merge(worker.archive);
    front.account.evaluated += worker.evaluated;
    for (std::size_t i = 0; i < worker.rejected.size(); ++i) {
      front.account.rejected[i] += worker.rejected[i];
    }
  }
  check_account(front.account);
  fill_ordered(compatible, archive.members(), front);
  return front;
}

}  // namespace sprocketry::search
