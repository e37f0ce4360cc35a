#pragma once

#include <tbb/enumerable_thread_specific.h>

#include <cstdint>
#include <memory>
#include <optional>
#include <pagmo/types.hpp>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "search/archive.hpp"
#include "search/evaluator.hpp"
#include "search/workers.hpp"

namespace sprocketry::benchmarks {

// Designs of a space named by one whole number per slot, and what the engine's own evaluator says
// of them. What every point that was asked for amounts to is remembered in an archive, so that a
// peer is judged by the best of all it has seen, not by its last population.
class DesignBoard {
 public:
  DesignBoard(const search::Setup& setup, const search::Space& space,
              const search::Compatible& compatible, int threads);

  // How many options each slot has: motor, controller, pack, charger, chain, front, rear.
  [[nodiscard]] const std::vector<std::size_t>& options() const { return options_; }
  [[nodiscard]] std::size_t objectives() const { return setup_->objectives.size(); }

  // The objectives of points laid end to end, all to be made small. Of a design that a rule rejects
  // each is a penalty instead, beyond any value of a design that passes: the sum of its relative
  // shortfalls over the rules it breaks, more where parts do not even fit each other.
  std::vector<double> values(const std::vector<double>& points);

  // The front of all that was asked for since the last reset().
  std::vector<search::Member> front();
  void reset() { workers_.clear(); }

 private:
  struct Worker {
    search::Evaluator evaluator;
    search::Archive archive;
    std::unordered_map<std::uint64_t, search::PreparedLevel> levels;

    Worker(const search::Setup& setup, const search::Space& space)
        : evaluator(setup, space), archive(setup.objectives.size()) {}
  };

  void value(const double* point, double* result);
  [[nodiscard]] std::optional<std::uint32_t> drive_of(const std::vector<std::size_t>& choice) const;
  [[nodiscard]] double misfit(const std::vector<std::size_t>& choice) const;
  double shortfall(const search::PreparedLevel& level, const search::DriveOption& drive,
                   const search::ChargerOption& charger, search::Evaluator& evaluator) const;

  const search::Setup* setup_;
  const search::Space* space_;
  const search::Compatible* compatible_;
  std::vector<std::size_t> options_;
  std::vector<std::uint32_t> drive_index_;        // by chain, front, rear; kNoDrive where none fits
  std::vector<std::vector<bool>> motor_accepts_;  // per motor, per drive
  search::Workers threads_;
  tbb::enumerable_thread_specific<Worker> workers_;
};

// The same as the library wants its problems: copied freely, so the board is shared.
class DesignProblem {
 public:
  DesignProblem() = default;
  explicit DesignProblem(std::shared_ptr<DesignBoard> board) : board_(std::move(board)) {}

  [[nodiscard]] pagmo::vector_double fitness(const pagmo::vector_double& point) const {
    return board_->values(point);
  }
  [[nodiscard]] pagmo::vector_double batch_fitness(const pagmo::vector_double& points) const {
    return board_->values(points);
  }
  [[nodiscard]] std::pair<pagmo::vector_double, pagmo::vector_double> get_bounds() const;
  [[nodiscard]] pagmo::vector_double::size_type get_nobj() const {
    return board_ ? board_->objectives() : 1;
  }
  [[nodiscard]] pagmo::vector_double::size_type get_nix() const {
    return board_ ? board_->options().size() : 1;
  }
  // The library asks for it to move a problem to another process, which nobody does here.
  template <typename Archive>
  void serialize(Archive&, unsigned) {}

 private:
  std::shared_ptr<DesignBoard> board_;
};

}  // namespace sprocketry::benchmarks
