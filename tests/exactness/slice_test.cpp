// The fronts of a space's slices, merged, against the front of the whole: the same document, byte
// for byte, where both evaluate everything; else all of it but how the account is split.

#include "search/slice.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <barrier>
#include <cstdlib>
#include <set>
#include <sstream>
#include <thread>
#include <tuple>

#include "exactness/random_job.hpp"
#include "report/front_json.hpp"
#include "report/front_merge.hpp"
#include "search/gather.hpp"

namespace sprocketry::test {
namespace {

using search::Pruning;
using search::Slice;

constexpr const char* kVersion = "1.2.3";

struct Question {
  explicit Question(int seed)
      : job(random_job(static_cast<std::uint64_t>(seed))),
        setup(search::make_setup(job.requirement)),
        space(search::make_space(job)) {}
  spec::Job job;
  search::Setup setup;
  search::Space space;
};

std::string searched(const Question& q, const search::Space& space, Pruning pruning,
                     const report::SliceNote* note = nullptr) {
  search::SearchOptions options;
  options.threads = 1;
  options.pruning = pruning;
  const search::Front front = search::search(q.setup, space, options);
  std::ostringstream text;
  report::write_front_json(text, {q.job, q.setup, space, front}, kVersion,
                           report::RuleRows::kTelling, note);
  return text.str();
}

// The slices in another order than theirs.
std::string merged(const Question& q, std::size_t slices, Pruning pruning, std::size_t& beaten) {
  report::FrontMerge merge(kVersion);
  for (std::size_t i = slices; i > 0; --i) {
    const report::SliceNote note{{i, slices}, "the question"};
    document::Diagnostics diagnostics;
    merge.add(diagnostics.add_source("slice " + std::to_string(i),
                                     searched(q, slice_of(q.space, note.slice), pruning, &note)),
              diagnostics);
    EXPECT_FALSE(diagnostics.has_errors()) << diagnostics.text();
  }
  EXPECT_EQ(merge.missing(), "");
  EXPECT_TRUE(merge.exact());
  std::ostringstream text;
  merge.write_json(text);
  beaten += merge.offered() - merge.size();
  return text.str();
}

// A front's document without the part of "count" that tells how its combinations are split.
std::string without_split(const std::string& document) {
  const std::size_t begin = document.find("\"rejected\"");
  const std::size_t end = document.find("\n    \"front\": ", begin);
  EXPECT_NE(end, std::string::npos);
  return document.substr(0, begin) + document.substr(end);
}

int cases() {
  const char* asked = std::getenv("SPROCKETRY_EXACTNESS_CASES");
  return asked ? std::atoi(asked) : 2000;
}

TEST(Slices, MergedAreTheFrontOfTheWholeByteForByte) {
  std::size_t beaten = 0;
  int fronts = 0;
  for (int i = 0; i < cases() / 4; ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const Question q(i);
    const std::string whole = searched(q, q.space, Pruning::kNever);
    fronts += whole.find("\"front\": []") == std::string::npos ? 1 : 0;
    const bool each = i % 20 == 0;
    for (std::size_t n = 1; n <= 7; ++n) {
      if (!each && n != 1 + static_cast<std::size_t>(i) % 7) continue;
      ASSERT_EQ(merged(q, n, Pruning::kNever, beaten), whole) << n << " slices";
      ASSERT_EQ(without_split(merged(q, n, Pruning::kAlways, beaten)), without_split(whole))
          << n << " slices, pruned";
    }
  }
  // Without fronts, and members of a slice that another slice's beat, this would prove little.
  EXPECT_GT(fronts * 32, cases());
  EXPECT_GT(beaten * 4, static_cast<std::size_t>(cases()));
}

// A front in one comparable text; with the account where asked.
std::string outline(const search::Front& front, bool with_account) {
  std::ostringstream text;
  text << front.exact << ' ' << static_cast<std::uint64_t>(front.account.combinations) << ' '
       << static_cast<std::uint64_t>(front.account.compatible) << '\n';
  for (std::size_t i = 0; i < front.members.size(); ++i) {
    const search::Combination& c = front.members[i];
    for (const std::size_t part :
         {c.motor, c.controller, c.pack, c.charger, c.chain, c.front, c.rear}) {
      text << part << ' ';
    }
    for (const double value : front.objectives[i]) text << std::hexfloat << value << ' ';
    text << (front.near && !front.near->on_front[i] ? "near\n" : "\n");
  }
  if (with_account) {
    for (const search::Count count : front.account.rejected) {
      text << static_cast<std::uint64_t>(count) << ' ';
    }
    text << static_cast<std::uint64_t>(front.account.evaluated);
  }
  return text.str();
}

TEST(Gathering, GivesTheFrontOfTheWholeAlsoWithWhatIsNear) {
  int members = 0;
  for (int i = 0; i < cases() / 4; ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const Question q(i);
    const std::size_t n = 2 + static_cast<std::size_t>(i) % 6;
    for (const Pruning pruning : {Pruning::kNever, Pruning::kAlways}) {
      search::SearchOptions options;
      options.threads = 1;
      options.pruning = pruning;
      options.near = i % 3 == 0 ? 0.1 : 0.0;
      std::vector<search::Words> slices;
      for (std::size_t k = 1; k <= n; ++k) {
        const search::SliceOptions slice = slice_options(q.space, {k, n});
        slices.push_back(
            words_of(search::search(q.setup, slice_of(q.space, slice), options), slice));
      }
      const search::Front whole = search::search(q.setup, q.space, options);
      const search::Front all = search::gathered(q.setup, slices, options.near);
      ASSERT_EQ(outline(all, pruning == Pruning::kNever),
                outline(whole, pruning == Pruning::kNever));
      ASSERT_EQ(all.near.has_value(), whole.near.has_value());
      ASSERT_EQ(all.near ? all.near->beyond : 0, whole.near ? whole.near->beyond : 0);
      members += static_cast<int>(whole.members.size());
    }
  }
  EXPECT_GT(members * 4, cases());
}

// What several processes tell each other, by threads of one: all wait for all, again and again,
// until each has nothing more to say.
class Table {
 public:
  explicit Table(std::size_t seats)
      : said_(seats), done_(seats, 0), all_here_(static_cast<std::ptrdiff_t>(seats)) {}

  std::vector<search::Costs> exchange(std::size_t seat, const std::vector<search::Costs>& found) {
    said_[seat] = found;
    all_here_.arrive_and_wait();
    std::vector<search::Costs> others;
    for (std::size_t i = 0; i < said_.size(); ++i) {
      if (i != seat) others.insert(others.end(), said_[i].begin(), said_[i].end());
    }
    all_here_.arrive_and_wait();
    return others;
  }
  void leave(std::size_t seat) {
    done_[seat] = 1;
    for (bool all = false; !all;) {
      said_[seat].clear();
      all_here_.arrive_and_wait();
      all = std::ranges::count(done_, 1) == std::ssize(done_);
      all_here_.arrive_and_wait();
    }
  }

 private:
  std::vector<std::vector<search::Costs>> said_;
  std::vector<char> done_;
  std::barrier<> all_here_;
};

TEST(Gathering, OfSearchesThatTellEachOtherWhatTheyFindIsTheFrontOfTheWhole) {
  std::uint64_t saved = 0;
  for (int i = 0; i < cases() / 10; ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const Question q(i);
    const std::size_t n = 2 + static_cast<std::size_t>(i) % 3;
    search::SearchOptions options;
    options.threads = 1;
    options.pruning = Pruning::kAlways;
    options.near = i % 4 == 0 ? 0.1 : 0.0;
    std::vector<search::Words> slices(n);
    Table table(n);
    std::vector<std::thread> searches;
    for (std::size_t k = 0; k < n; ++k) {
      searches.emplace_back([&, k, how = options]() mutable {
        how.exchange = [&](const std::vector<search::Costs>& found) {
          return table.exchange(k, found);
        };
        const search::SliceOptions slice = slice_options(q.space, {k + 1, n});
        slices[k] = words_of(search::search(q.setup, slice_of(q.space, slice), how), slice);
        table.leave(k);
      });
    }
    for (std::thread& one : searches) one.join();
    const search::Front all = search::gathered(q.setup, slices, options.near);
    const search::Front whole = search::search(q.setup, q.space, options);
    ASSERT_EQ(outline(all, false), outline(whole, false));
    std::vector<search::Words> apart;
    for (std::size_t k = 1; k <= n; ++k) {
      const search::SliceOptions slice = slice_options(q.space, {k, n});
      apart.push_back(words_of(search::search(q.setup, slice_of(q.space, slice), options), slice));
    }
    const search::Front alone = search::gathered(q.setup, apart, options.near);
    ASSERT_LE(all.account.evaluated, alone.account.evaluated);
    saved += static_cast<std::uint64_t>(alone.account.evaluated - all.account.evaluated);
  }
  // Small spaces are searched in few rounds, so little is left to save; but something is.
  EXPECT_GT(saved, 0U);
}

TEST(Slices, HoldEachCombinationOnce) {
  for (int i = 0; i < 60; ++i) {
    const Question q(i);
    for (const std::size_t n : {1U, 2U, 3U, 5U, 7U, 11U, 64U, 1000U}) {
      SCOPED_TRACE("seed " + std::to_string(i) + ", " + std::to_string(n) + " slices");
      using Names = std::tuple<std::string, std::string, std::string, std::string, std::string,
                               std::string, int, std::string, int>;
      std::set<Names> seen;
      search::Count sum = 0;
      for (std::size_t k = 1; k <= n; ++k) {
        const search::Space part = slice_of(q.space, {k, n});
        sum += part.combinations();
        for (const auto& m : part.motors)
          for (const auto& c : part.controllers)
            for (const auto& p : part.packs)
              for (const auto& h : part.chargers)
                for (const auto& x : part.chains)
                  for (const auto& f : part.fronts)
                    for (const auto& r : part.rears) {
                      seen.insert({m.part->id, c.part->id, p.part.id, h.part ? h.part->id : "",
                                   x.part->id, f.family->id, f.teeth, r.family->id, r.teeth});
                    }
      }
      ASSERT_EQ(static_cast<std::uint64_t>(sum),
                static_cast<std::uint64_t>(q.space.combinations()));
      ASSERT_EQ(seen.size(), static_cast<std::uint64_t>(sum));
    }
  }
}

TEST(Slices, OfAsManyAsThereAreOptionsAreOfLikeSize) {
  const Question q(1);
  const search::Space& s = q.space;
  const std::size_t most =
      std::max({s.motors.size(), s.controllers.size(), s.packs.size(), s.chargers.size(),
                s.chains.size(), s.fronts.size(), s.rears.size()});
  ASSERT_GT(most, 1U);
  for (std::size_t k = 1; k <= most; ++k) {
    EXPECT_EQ(static_cast<std::uint64_t>(slice_of(s, {k, most}).combinations() * most),
              static_cast<std::uint64_t>(s.combinations()));
  }
}

}  // namespace
}  // namespace sprocketry::test
