#include "search/bounded.hpp"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <memory>
#include <utility>

#include "search/group_search.hpp"
#include "search/workers.hpp"

namespace sprocketry::search {
namespace {

// Tells the others what was found, and takes what they did.
void exchange_found(const std::vector<Findings>& found, const Exchange& exchange, Findings& all) {
  Archive fresh(all.objectives);
  for (const Findings& part : found) fresh.merge(part.archive);
  std::vector<Costs> costs;
  for (const Member& member : fresh.members()) costs.push_back(member.objectives);
  for (const Costs& others : exchange(costs)) all.archive.offer({others, kElsewhere});
}

// A group with what is left of it.
struct Task {
  Group group;
  GroupRest rest;
};

// Passes over the tasks, in rounds on a standing pool, with what all of them have found.
class Rounds {
 public:
  Rounds(const Setup& setup, const Space& space, const Compatible& compatible,
         const std::vector<DriveTree>& trees, const SearchOptions& options, const Keep& keep)
      : setup_(&setup),
        options_(&options),
        keep_(keep),
        all_(setup, keep),
        workers_(options.threads) {
    for (std::size_t i = 0; i < kPieces; ++i) {
      searches_.push_back(
          std::make_unique<GroupSearch>(setup, space, compatible, trees, options, keep));
    }
  }

  void run(std::vector<Task>& tasks, std::size_t pass) {
    for (std::size_t first = 0; first < tasks.size() && !stopped(options_->watch);) {
      const std::size_t last = std::min(tasks.size(), first + kPieces * per_piece_);
      round(tasks, first, last, pass);
      first = last;
      per_piece_ = std::min(2 * per_piece_, kMostGroupsPerPiece);
    }
  }

  [[nodiscard]] Findings take() { return std::move(all_); }

 private:
  // Constants of the program, not of the machine: the counts depend on them.
  static constexpr std::size_t kPieces = 16;
  static constexpr std::size_t kMostGroupsPerPiece = 32;

  void round(std::vector<Task>& tasks, std::size_t first, std::size_t last, std::size_t pass) {
    std::vector<Findings> found(kPieces, Findings(*setup_, keep_));
    workers_.run([&] {
      tbb::parallel_for(std::size_t{0}, kPieces, [&](std::size_t piece) {
        // Dealt out in turn, so that each piece has cheap and dear ones.
        for (std::size_t g = first + piece; g < last; g += kPieces) {
          if (stopped(options_->watch)) return;
          const Count before = found[piece].settled();
          searches_[piece]->run(tasks[g].group, tasks[g].rest,
                                keep_.front ? *keep_.front : all_.archive, pass, found[piece]);
          if (options_->watch) {
            options_->watch->settled += static_cast<double>(found[piece].settled() - before);
          }
        }
      });
    });
    for (const Findings& part : found) {
      all_.archive.merge(part.archive);
      add_account(all_, part);
    }
    if (options_->exchange && keep_.front == nullptr) {
      exchange_found(found, options_->exchange, all_);
    }
    if (options_->watch) options_->watch->front = all_.archive.size();
  }

  const Setup* setup_;
  const SearchOptions* options_;
  Keep keep_;
  Findings all_;
  Workers workers_;
  std::vector<std::unique_ptr<GroupSearch>> searches_;
  std::size_t per_piece_ = 1;
};

}  // namespace

Findings search_bounded(const Setup& setup, const Space& space, const Compatible& compatible,
                        const SearchOptions& options, const Keep& keep) {
  const std::vector<DriveTree> trees = make_trees(space, compatible);
  Rounds rounds(setup, space, compatible, trees, options, keep);
  std::vector<Task> tasks;
  for (const Group& group : make_groups(space, compatible)) tasks.push_back({group, {}});
  const bool whole = !options.coarse_first || keep.front != nullptr;
  for (std::size_t pass = whole ? kPasses.size() - 1 : 0; pass < kPasses.size(); ++pass) {
    rounds.run(tasks, pass);
    if (stopped(options.watch)) break;
    std::erase_if(tasks, [](const Task& task) { return task.rest.settled(); });
  }
  return rounds.take();
}

}  // namespace sprocketry::search
