#include "rank_search.hpp"

#include <algorithm>
#include <cstring>
#include <iostream>
#include <span>
#include <stdexcept>

#include "complain.hpp"
#include "search/gather.hpp"

namespace sprocketry::cli {
namespace {

constexpr char kSearching = 's';
constexpr char kDone = 'd';

template <typename Item>
void append(std::string& text, std::span<const Item> items) {
  const std::size_t before = text.size();
  text.resize(before + items.size_bytes());
  if (!items.empty()) std::memcpy(text.data() + before, items.data(), items.size_bytes());
}

template <typename Item>
std::vector<Item> items_of(std::string_view bytes) {
  if (bytes.size() % sizeof(Item) != 0) throw std::runtime_error("a rank speaks of halves");
  std::vector<Item> items(bytes.size() / sizeof(Item));
  if (!items.empty()) std::memcpy(items.data(), bytes.data(), bytes.size());
  return items;
}

// Tells all ranks what was found; what the others found.
std::vector<search::Costs> told(Ranks& ranks, const std::vector<search::Costs>& found) {
  std::string mine(1, kSearching);
  append(mine, std::span(found));
  const std::vector<std::string> texts = ranks.exchange(mine);
  std::vector<search::Costs> others;
  for (std::size_t rank = 0; rank < texts.size(); ++rank) {
    if (rank == ranks.rank()) continue;
    const auto costs = items_of<search::Costs>(std::string_view(texts[rank]).substr(1));
    others.insert(others.end(), costs.begin(), costs.end());
  }
  return others;
}

// Listens until all ranks are done with their slices, since they may still wait for an answer.
void wait_for_others(Ranks& ranks) {
  const std::string mine(1, kDone);
  while (!std::ranges::all_of(ranks.exchange(mine),
                              [&](const std::string& text) { return text == mine; })) {
  }
}

}  // namespace

bool agree(Ranks& ranks, const std::optional<std::string>& question) {
  constexpr char kSound = '+';
  constexpr char kWrong = '-';
  const std::vector<std::string> texts =
      ranks.exchange(question ? kSound + *question : kWrong + ranks.said());
  bool same = true;
  for (std::size_t rank = 0; rank < texts.size(); ++rank) {
    if (texts[rank].front() == kSound && texts[rank] == texts[0]) continue;
    // Rank 0 has said by itself what is wrong there, and most often that is wrong everywhere.
    const bool told = texts[0].front() == kWrong || !ranks.first();
    if (!told && texts[rank].front() == kSound) {
      complain("rank " + std::to_string(rank) +
               " reads another question than rank 0: the same "
               "version of the program, files and options must be there for all");
    } else if (!told) {
      complain("rank " + std::to_string(rank) + " cannot read the question:\n" +
               texts[rank].substr(1));
    }
    same = false;
  }
  return same;
}

std::optional<search::Front> search_on_ranks(Ranks& ranks, const search::Setup& setup,
                                             const search::Space& space,
                                             search::SearchOptions options) {
  const search::SliceOptions slice = search::slice_options(space, {ranks.rank() + 1, ranks.size()});
  options.exchange = [&ranks](const std::vector<search::Costs>& found) {
    return told(ranks, found);
  };
  const search::Front front = search::search(setup, search::slice_of(space, slice), options);
  wait_for_others(ranks);
  std::string mine;
  const search::Words words = search::words_of(front, slice);
  append(mine, std::span(words));
  std::vector<search::Words> slices;
  for (const std::string& text : ranks.gather(mine)) {
    slices.push_back(items_of<std::uint64_t>(text));
  }
  if (!ranks.first()) return std::nullopt;
  return search::gathered(setup, slices, options.near);
}

}  // namespace sprocketry::cli
