#include "report/front_sample.hpp"

#include <algorithm>
#include <numeric>
#include <set>

#include "report/display.hpp"
#include "search/hypervolume.hpp"

namespace sprocketry::report {
namespace {

// The first best in each objective.
std::vector<std::size_t> best_of_each(const Result& r) {
  const auto& values = r.front.objectives;
  std::vector<std::size_t> best;
  for (std::size_t k = 0; k < r.setup.objectives.size(); ++k) {
    const auto at = std::ranges::min_element(values, {}, [&](const auto& v) { return v[k]; });
    best.push_back(static_cast<std::size_t>(at - values.begin()));
  }
  return best;
}

// The members that must be seen.
std::set<std::size_t> landmarks(const Result& r) {
  std::set<std::size_t> chosen = {0, r.front.objectives.size() - 1, balanced(r)};
  for (const std::size_t best : best_of_each(r)) chosen.insert(best);
  return chosen;
}

// Each objective as its share of the front's span, 0 for the best; 0 throughout where there is no
// span.
std::vector<search::Values> shares_of_span(const Result& r) {
  const auto& values = r.front.objectives;
  const std::size_t count = r.setup.objectives.size();
  std::vector<search::Values> shares(values.size(), search::Values(count, 0.0));
  for (std::size_t k = 0; k < count; ++k) {
    const auto [low, high] = std::ranges::minmax(values, {}, [&](const auto& v) { return v[k]; });
    const double span = high[k] - low[k];
    if (!(span > 0)) continue;
    for (std::size_t i = 0; i < values.size(); ++i) shares[i][k] = (values[i][k] - low[k]) / span;
  }
  return shares;
}

}  // namespace

std::size_t balanced(const Result& r) {
  std::vector<double> sums;
  for (const search::Values& shares : shares_of_span(r)) {
    sums.push_back(std::accumulate(shares.begin(), shares.end(), 0.0));
  }
  return static_cast<std::size_t>(std::ranges::min_element(sums) - sums.begin());
}

std::vector<std::size_t> spread(const Result& r, std::size_t most) {
  const std::size_t size = r.front.members.size();
  if (size <= most) {
    std::vector<std::size_t> all(size);
    std::iota(all.begin(), all.end(), std::size_t{0});
    return all;
  }
  const std::set<std::size_t> first = landmarks(r);
  // A tenth of the span beyond the worst, so that the ends of the front have room of their own.
  constexpr double kBeyond = 1.1;
  const std::vector<search::Values> shares = shares_of_span(r);
  return search::widest(shares, search::Values(shares.front().size(), kBeyond),
                        {first.begin(), first.end()}, most);
}

std::vector<std::string> standing_out(const Result& r, const std::vector<std::size_t>& members) {
  const std::vector<std::size_t> best = best_of_each(r);
  const std::size_t knee = balanced(r);
  std::vector<std::string> words(members.size());
  for (std::size_t i = 0; i < members.size(); ++i) {
    const auto say = [&](const std::string& what) {
      words[i] += (words[i].empty() ? "" : ", ") + what;
    };
    for (std::size_t k = 0; k < best.size(); ++k) {
      if (best[k] == members[i]) {
        say("best " + shown(*r.setup.objectives[k], r.job.requirement).label);
      }
    }
    if (members[i] == knee) say("knee");
    if (r.front.near && !r.front.near->on_front[members[i]]) say("near the front");
  }
  return words;
}

}  // namespace sprocketry::report
