#include "search/search.hpp"

#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <stdexcept>

#include "search/bounded.hpp"
#include "search/worker.hpp"
#include "search/workers.hpp"

namespace sprocketry::search {
namespace {

// A piece of work: some of a level's drives.
struct Piece {
  std::uint32_t level = 0;
  std::uint32_t first_drive = 0;  // into the motor's list
  std::uint32_t last_drive = 0;
};

std::vector<Piece> make_pieces(const Compatible& compatible,
                               const std::vector<LevelOption>& levels) {
  constexpr std::size_t kDrivesPerPiece = 2048;
  std::vector<Piece> pieces;
  for (std::size_t l = 0; l < levels.size(); ++l) {
    const std::size_t drives = compatible.motor_drives[levels[l].motor].size();
    for (std::size_t first = 0; first < drives; first += kDrivesPerPiece) {
      pieces.push_back({static_cast<std::uint32_t>(l), static_cast<std::uint32_t>(first),
                        static_cast<std::uint32_t>(std::min(drives, first + kDrivesPerPiece))});
    }
  }
  return pieces;
}

struct Worker {
  Evaluator evaluator;
  Findings findings;

  Worker(const Setup& setup, const Space& space, const Keep& keep)
      : evaluator(setup, space), findings(setup, keep) {}
};

Findings search_all(const Setup& setup, const Space& space, const Compatible& compatible,
                    const SearchOptions& options, const Keep& keep) {
  const int threads = options.threads;
  const std::vector<LevelOption> levels = list_levels(compatible, space);
  const std::vector<Piece> pieces = make_pieces(compatible, levels);
  tbb::enumerable_thread_specific<Worker> workers([&] { return Worker(setup, space, keep); });
  Workers threads_at_work(threads);
  const auto run = [&](const Piece& piece) {
    if (stopped(options.watch)) return;
    Worker& worker = workers.local();
    const LevelOption& option = levels[piece.level];
    const auto& chargers = compatible.grid.chargers(option.pack);
    const LevelWork level{prepare_level(setup, space, option.motor, option.controller, option.pack),
                          compatible.grid.index(option.motor, option.controller, option.pack),
                          group_chargers(setup, space, space.packs[option.pack].part, chargers),
                          chargers.size()};
    const auto& drives = compatible.motor_drives[option.motor];
    const Count before = worker.findings.settled();
    for (std::uint32_t i = piece.first_drive; i < piece.last_drive; ++i) {
      if (stopped(options.watch)) break;
      evaluate_drive(setup, space, compatible, level, drives[i], worker.evaluator, worker.findings);
    }
    if (options.watch) {
      options.watch->settled += static_cast<double>(worker.findings.settled() - before);
    }
  };
  threads_at_work.run([&] {
    tbb::parallel_for(std::size_t{0}, pieces.size(), [&](std::size_t i) { run(pieces[i]); });
  });
  Findings all(setup, keep);
  for (const Worker& worker : workers) {
    all.archive.merge(worker.findings.archive);
    add_account(all, worker.findings);
  }
  return all;
}

// What is left over is unsettled, which only a search that was stopped may leave.
void close_account(Account& account, bool was_stopped) {
  Count sum = account.evaluated + account.pruned;
  for (const Count count : account.rejected) sum += count;
  if (sum > account.combinations || (sum < account.combinations && !was_stopped)) {
    throw std::logic_error("the account of combinations does not add up");
  }
  account.unsettled = account.combinations - sum;
}

void fill_ordered(const Compatible& compatible, std::vector<Member> members, Front& front) {
  std::erase_if(members, [](const Member& member) { return member.key == kElsewhere; });
  std::ranges::sort(members, [](const Member& a, const Member& b) {
    return a.objectives != b.objectives ? a.objectives < b.objectives : a.key < b.key;
  });
  for (const Member& member : members) {
    const LevelGrid::Place level = compatible.grid.place(member.key.level);
    const DriveOption& drive = compatible.drives[member.key.drive];
    front.members.push_back({level.motor, level.controller, level.pack, member.key.charger,
                             drive.chain, drive.front, drive.rear});
    front.objectives.push_back(member.objectives);
  }
}

Nearness nearness(const Archive& known, const Front& front, double share) {
  Nearness near;
  near.share = share;
  for (const auto& values : front.objectives) {
    near.on_front.push_back(!known.dominated(values.data()));
    near.beyond += near.on_front.back() ? 0U : 1U;
  }
  return near;
}

Account account_of(const Space& space, const Compatible& compatible, const Findings& found) {
  Account account;
  account.combinations = space.combinations();
  account.compatible = compatible.combinations();
  account.rejected = compatible.rejected;
  account.evaluated = found.evaluated;
  account.pruned = found.pruned;
  for (std::size_t i = 0; i < found.rejected.size(); ++i) account.rejected[i] += found.rejected[i];
  return account;
}

}  // namespace

Front search(const Setup& setup, const Space& space, const SearchOptions& options) {
  // Evaluated in a few tenths of a second; below it the account names every rejecting rule.
  constexpr Count kAtOnce = 200000;
  const Compatible compatible = make_compatible(setup, space);
  if (options.watch) options.watch->compatible = static_cast<double>(compatible.combinations());
  const bool prune = options.pruning == Pruning::kAlways ||
                     (options.pruning == Pruning::kAuto && compatible.combinations() > kAtOnce);
  const auto find = [&](const Keep& keep) {
    return prune ? search_bounded(setup, space, compatible, options, keep)
                 : search_all(setup, space, compatible, options, keep);
  };
  Findings found = find({});
  const bool nearby = options.near > 0 && !stopped(options.watch);
  Front front;
  if (!nearby) {
    fill_ordered(compatible, found.archive.members(), front);
  } else {
    // The front is known whole, so what lies near it is told at once. The account is of this second
    // search.
    if (options.watch) options.watch->settled = 0;
    const Archive known = std::move(found.archive);
    found = find({&known, options.near});
    fill_ordered(compatible, std::move(found.near), front);
    front.near = nearness(known, front, options.near);
  }
  front.account = account_of(space, compatible, found);
  close_account(front.account, stopped(options.watch));
  front.exact = front.account.unsettled == 0 && (options.near == 0 || nearby);
  return front;
}

std::vector<rules::Selection> selections(const Space& space, const Front& front) {
  std::vector<rules::Selection> list;
  list.reserve(front.members.size());
  for (const Combination& c : front.members) {
    list.push_back(selection(space, c));
  }
  return list;
}

Front all_feasible(const Setup& setup, const Space& space, int threads, Watch* watch) {
  const Compatible compatible = make_compatible(setup, space);
  if (watch) watch->compatible = static_cast<double>(compatible.combinations());
  // Near to a front of nothing is everything.
  const Archive nothing(setup.objectives.size());
  Findings found = search_all(setup, space, compatible,
                              SearchOptions{.threads = threads, .watch = watch}, {&nothing, 0});
  Front front;
  fill_ordered(compatible, std::move(found.near), front);
  front.account = account_of(space, compatible, found);
  close_account(front.account, stopped(watch));
  front.exact = front.account.unsettled == 0;
  return front;
}

Front search(const Setup& setup, const Space& space, int threads) {
  return search(setup, space, SearchOptions{.threads = threads});
}

}  // namespace sprocketry::search
