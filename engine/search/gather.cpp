#include "search/gather.hpp"

#include <algorithm>
#include <bit>
#include <compare>
#include <stdexcept>
#include <tuple>

#include "search/shade.hpp"

namespace sprocketry::search {
namespace {

constexpr unsigned kWordBits = 64;

void add_count(Words& words, Count count) {
  words.push_back(static_cast<std::uint64_t>(count >> kWordBits));
  words.push_back(static_cast<std::uint64_t>(count));
}

auto numbers_of(const Combination& c) {
  return std::array<std::uint64_t, 7>{c.motor, c.controller, c.pack, c.charger,
                                      c.chain, c.front,      c.rear};
}

// Takes the words of a front one after the other.
class Reader {
 public:
  explicit Reader(const Words& words) : words_(words) {}
  std::uint64_t word() {
    if (at_ == words_.size()) throw std::invalid_argument("the front of a slice is cut off");
    return words_[at_++];
  }
  Count count() {
    const Count high = word();
    return (high << kWordBits) + word();
  }
  double number() { return std::bit_cast<double>(word()); }
  [[nodiscard]] bool at_end() const { return at_ == words_.size(); }

 private:
  const Words& words_;
  std::size_t at_ = 0;
};

struct Found {
  std::array<double, kMostObjectives> costs{};
  Combination combination;
};

void read(const Words& words, Front& sum, std::vector<Found>& found) {
  Reader reader(words);
  sum.exact = reader.word() == 1 && sum.exact;
  Account& account = sum.account;
  for (Count* count : {&account.combinations, &account.evaluated, &account.pruned,
                       &account.unsettled, &account.compatible}) {
    *count += reader.count();
  }
  account.rejected.resize(reader.word());
  for (Count& count : account.rejected) count += reader.count();
  for (std::uint64_t left = reader.word(); left > 0; --left) {
    Found& one = found.emplace_back();
    Combination& c = one.combination;
    for (std::size_t* number :
         {&c.motor, &c.controller, &c.pack, &c.charger, &c.chain, &c.front, &c.rear}) {
      *number = reader.word();
    }
    for (double& cost : one.costs) cost = reader.number();
  }
  if (!reader.at_end()) throw std::invalid_argument("the front of a slice is too long");
}

}  // namespace

Words words_of(const Front& front, const SliceOptions& options) {
  const Account& account = front.account;
  Words words = {front.exact ? 1U : 0U};
  for (const Count count : {account.combinations, account.evaluated, account.pruned,
                            account.unsettled, account.compatible}) {
    add_count(words, count);
  }
  words.push_back(account.rejected.size());
  for (const Count count : account.rejected) add_count(words, count);
  words.push_back(front.members.size());
  for (std::size_t i = 0; i < front.members.size(); ++i) {
    for (const std::uint64_t number : numbers_of(in_whole(options, front.members[i]))) {
      words.push_back(number);
    }
    for (const double cost : front.objectives[i]) {
      words.push_back(std::bit_cast<std::uint64_t>(cost));
    }
  }
  return words;
}

Front gathered(const Setup& setup, std::span<const Words> slices, double near) {
  const std::size_t objectives = setup.objectives.size();
  Front front;
  std::vector<Found> found;
  for (const Words& words : slices) read(words, front, found);
  Archive known(objectives);
  for (const Found& one : found) known.offer({one.costs, {}});
  (void)known.members();
  // What is near the whole front is near that of its own slice, so it was found.
  const double share = front.exact ? near : 0.0;
  std::erase_if(found, [&](const Found& one) {
    return known.dominated(improved(one.costs.data(), objectives, share).data());
  });
  std::ranges::sort(found, {}, [](const Found& one) {
    return std::tuple(one.costs, numbers_of(one.combination));
  });
  if (share > 0) front.near = Nearness{share, {}, 0};
  for (const Found& one : found) {
    front.members.push_back(one.combination);
    front.objectives.push_back(one.costs);
    if (!front.near) continue;
    front.near->on_front.push_back(!known.dominated(one.costs.data()));
    front.near->beyond += front.near->on_front.back() ? 0U : 1U;
  }
  return front;
}

}  // namespace sprocketry::search
