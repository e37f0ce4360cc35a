#include "search/enumerate.hpp"

#include <tbb/parallel_pipeline.h>

#include <algorithm>
#include <atomic>

#include "search/compatible.hpp"
#include "search/workers.hpp"

namespace sprocketry::search {
namespace {

// Some drives of one level with one charger.
struct Piece {
  std::size_t level = 0;
  std::size_t charger = 0;
  std::size_t first_drive = 0;
  std::size_t last_drive = 0;
};

std::vector<Piece> make_pieces(const Compatible& compatible,
                               const std::vector<LevelOption>& levels) {
  constexpr std::size_t kDrivesPerPiece = 256;
  std::vector<Piece> pieces;
  for (std::size_t l = 0; l < levels.size(); ++l) {
    const LevelOption& level = levels[l];
    const std::size_t drives = compatible.motor_drives[level.motor].size();
    for (const std::uint32_t h : compatible.grid.chargers(level.pack)) {
      for (std::size_t first = 0; first < drives; first += kDrivesPerPiece) {
        pieces.push_back({l, h, first, std::min(drives, first + kDrivesPerPiece)});
      }
    }
  }
  return pieces;
}

}  // namespace

bool enumerate(const Setup& setup, const Space& space, int threads,
               const std::function<void(const Design&, std::string&)>& format,
               const std::function<bool(std::string_view)>& write, const Watch* watch) {
  const auto stopped = [&] { return watch != nullptr && watch->stopped(); };
  const Compatible compatible = make_compatible(setup, space);
  const std::vector<LevelOption> levels = list_levels(compatible, space);
  const std::vector<Piece> pieces = make_pieces(compatible, levels);
  const auto text_of = [&](const Piece& piece) {
    const LevelOption& level = levels[piece.level];
    const auto& drives = compatible.motor_drives[level.motor];
    std::string text;
    // What this leaves out is never written: `stopped` stays true.
    for (std::size_t i = piece.first_drive; i < piece.last_drive && !stopped(); ++i) {
      const DriveOption& drive = compatible.drives[drives[i]];
      format(evaluate_design(setup, space,
                             {level.motor, level.controller, level.pack, piece.charger, drive.chain,
                              drive.front, drive.rear}),
             text);
    }
    return text;
  };
  constexpr std::size_t kPiecesInFlight = 16;
  std::size_t next = 0;
  std::atomic<bool> wanted = true;
  Workers threads_at_work(threads);
  threads_at_work.run([&] {
    tbb::parallel_pipeline(
        kPiecesInFlight,
        tbb::make_filter<void, std::size_t>(tbb::filter_mode::serial_in_order,
                                            [&](tbb::flow_control& control) -> std::size_t {
                                              if (wanted && !stopped() && next < pieces.size())
                                                return next++;
                                              control.stop();
                                              return 0;
                                            }) &
            tbb::make_filter<std::size_t, std::string>(
                tbb::filter_mode::parallel, [&](std::size_t i) { return text_of(pieces[i]); }) &
            tbb::make_filter<std::string, void>(
                tbb::filter_mode::serial_in_order,
                [&](const std::string& text) { wanted = wanted && !stopped() && write(text); }));
  });
  return wanted && next == pieces.size();
}

}  // namespace sprocketry::search
