#include "ranks.hpp"

#include <charconv>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <limits>
#include <stdexcept>
#include <string_view>

#ifdef SPROCKETRY_MPI
#include <mpi.h>
#endif

namespace sprocketry::cli {
namespace {

// The number in the first of these variables that is set, or `otherwise`.
std::size_t number_in(std::initializer_list<const char*> names, std::size_t otherwise) {
  for (const char* name : names) {
    const char* text = std::getenv(name);
    if (text == nullptr) continue;
    const std::string_view digits(text);
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    if (error == std::errc{} && end == digits.data() + digits.size()) return number;
  }
  return otherwise;
}

}  // namespace

// Open MPI's launcher sets the first of each pair, those that follow MPICH's the second.
Ranks::Ranks()
    : rank_(number_in({"OMPI_COMM_WORLD_RANK", "PMI_RANK"}, 0)),
      size_(number_in({"OMPI_COMM_WORLD_SIZE", "PMI_SIZE"}, 1)) {
  if (!first()) before_ = std::cerr.rdbuf(said_.rdbuf());
}

#ifdef SPROCKETRY_MPI

bool Ranks::can_join() { return true; }

void Ranks::join() {
  if (!several()) return;
  int given = 0;
  int rank = 0;
  int size = 0;
  MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &given);
  joined_ = true;
  MPI_Comm_rank(MPI_COMM_WORLD, &rank);
  MPI_Comm_size(MPI_COMM_WORLD, &size);
  rank_ = static_cast<std::size_t>(rank);
  size_ = static_cast<std::size_t>(size);
}

namespace {

// What every rank says, one after the other, where each begins and how long it is.
struct Layout {
  std::vector<int> lengths;
  std::vector<int> begins;
  std::string all;
};

Layout layout_of(const std::string& mine, std::size_t ranks) {
  if (mine.size() > std::numeric_limits<int>::max()) {
    throw std::runtime_error("a rank has more to say than 2 GiB");
  }
  const int length = static_cast<int>(mine.size());
  Layout layout;
  layout.lengths.resize(ranks);
  MPI_Allgather(&length, 1, MPI_INT, layout.lengths.data(), 1, MPI_INT, MPI_COMM_WORLD);
  std::int64_t sum = 0;
  for (const int one : layout.lengths) {
    layout.begins.push_back(static_cast<int>(sum));
    sum += one;
    if (sum > std::numeric_limits<int>::max()) {
      throw std::runtime_error("the ranks have more to say than 2 GiB");
    }
  }
  layout.all.resize(static_cast<std::size_t>(sum));
  return layout;
}

std::vector<std::string> split(const Layout& layout) {
  std::vector<std::string> texts;
  for (std::size_t i = 0; i < layout.lengths.size(); ++i) {
    texts.push_back(layout.all.substr(static_cast<std::size_t>(layout.begins[i]),
                                      static_cast<std::size_t>(layout.lengths[i])));
  }
  return texts;
}

}  // namespace

std::vector<std::string> Ranks::exchange(const std::string& mine) {
  Layout layout = layout_of(mine, size_);
  MPI_Allgatherv(mine.data(), static_cast<int>(mine.size()), MPI_BYTE, layout.all.data(),
                 layout.lengths.data(), layout.begins.data(), MPI_BYTE, MPI_COMM_WORLD);
  return split(layout);
}

std::vector<std::string> Ranks::gather(const std::string& mine) {
  Layout layout = layout_of(mine, size_);
  MPI_Gatherv(mine.data(), static_cast<int>(mine.size()), MPI_BYTE, layout.all.data(),
              layout.lengths.data(), layout.begins.data(), MPI_BYTE, 0, MPI_COMM_WORLD);
  return first() ? split(layout) : std::vector<std::string>{};
}

void Ranks::leave() {
  if (joined_) MPI_Finalize();
  joined_ = false;
}

Ranks::~Ranks() {
  if (before_ != nullptr) std::cerr.rdbuf(before_);
  if (!joined_) return;
  constexpr int kFailed = 70;
  std::cerr << "sprocketry: rank " << rank_ << " of " << size_ << " failed, so all end\n"
            << said_.str() << std::flush;
  MPI_Abort(MPI_COMM_WORLD, kFailed);
}

#else

bool Ranks::can_join() { return false; }
void Ranks::join() {}
std::vector<std::string> Ranks::exchange(const std::string& mine) { return {mine}; }
std::vector<std::string> Ranks::gather(const std::string& mine) { return {mine}; }
void Ranks::leave() {}
Ranks::~Ranks() {
  if (before_ != nullptr) std::cerr.rdbuf(before_);
}

#endif

}  // namespace sprocketry::cli
