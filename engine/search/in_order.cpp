#include "search/in_order.hpp"

#include <tbb/parallel_pipeline.h>

#include <algorithm>

#include "search/workers.hpp"

namespace sprocketry::search {

void write_in_order(
    std::size_t items, int threads,
    const std::function<void(std::size_t first, std::size_t last, std::string&)>& make,
    const std::function<void(std::string_view)>& write) {
  constexpr std::size_t kPiece = 32;
  constexpr std::size_t kPiecesInFlight = 16;
  std::size_t next = 0;
  const auto begin = [&](tbb::flow_control& control) -> std::size_t {
    const std::size_t first = next;
    if (first >= items) control.stop();
    next += kPiece;
    return first;
  };
  const auto text = [&](std::size_t first) {
    std::string piece;
    make(first, std::min(items, first + kPiece), piece);
    return piece;
  };
  Workers workers(threads);
  workers.run([&] {
    tbb::parallel_pipeline(
        kPiecesInFlight,
        tbb::make_filter<void, std::size_t>(tbb::filter_mode::serial_in_order, begin) &
            tbb::make_filter<std::size_t, std::string>(tbb::filter_mode::parallel, text) &
            tbb::make_filter<std::string, void>(tbb::filter_mode::serial_in_order,
                                                [&](const std::string& piece) { write(piece); }));
  });
}

}  // namespace sprocketry::search
