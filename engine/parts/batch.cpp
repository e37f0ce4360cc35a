#include "parts/batch.hpp"

#include <tbb/parallel_pipeline.h>

#include <algorithm>
#include <atomic>
#include <iterator>
#include <memory>
#include <optional>
#include <utility>

#include "document/large_pages.hpp"

namespace sprocketry::parts {
namespace {

constexpr std::size_t kInWork = 16;  // pieces at a time; what they gave waits to be joined

// `pieces` says how many more of that length are to come at most.
template <typename T>
void append(std::vector<T>& all, std::vector<T>&& some, std::size_t pieces) {
  if (all.empty() && pieces == 0) {
    all = std::move(some);
    return;
  }
  if (all.empty()) document::reserve_large(all, some.size() * (pieces + 1));
  all.insert(all.end(), std::make_move_iterator(some.begin()), std::make_move_iterator(some.end()));
}

void append(Catalogue& all, Catalogue&& some, std::size_t pieces) {
  append(all.motors, std::move(some.motors), pieces);
  append(all.controllers, std::move(some.controllers), pieces);
  append(all.cells, std::move(some.cells), pieces);
  append(all.packs, std::move(some.packs), pieces);
  append(all.chargers, std::move(some.chargers), pieces);
  append(all.chains, std::move(some.chains), pieces);
  append(all.front_sprockets, std::move(some.front_sprockets), pieces);
  append(all.rear_sprockets, std::move(some.rear_sprockets), pieces);
  append(all.tyres, std::move(some.tyres), pieces);
  append(all.extras, std::move(some.extras), pieces);
  append(all.defaults, std::move(some.defaults), pieces);
}

// Joins what a piece gave to what those before it gave.
void append(Batch& all, Batch&& some, std::size_t pieces) {
  for (GivenId& given : some.ids) given.findings += all.diagnostics.all().size();
  append(all.ids, std::move(some.ids), pieces);
  for (const document::Diagnostic& one : some.diagnostics.all()) all.diagnostics.add(one);
  all.all_named = all.all_named && some.all_named;
  append(all.catalogue, std::move(some.catalogue), pieces);
  append(all.inputs, std::move(some.inputs), pieces);
  append(all.written, std::move(some.written), pieces);
}

// Nothing when some of the pieces could not be read.
std::optional<Batch> join_pieces(std::size_t count, const ReadPiece& read) {
  Batch whole;
  std::size_t next = 0;
  std::size_t joined = 0;
  std::atomic<bool> sound = true;
  using Piece = std::shared_ptr<Batch>;  // the pipeline copies what it passes on
  const auto begin = [&](tbb::flow_control& control) -> std::size_t {
    if (next == count || !sound) control.stop();
    return next++;
  };
  const auto read_one = [&](std::size_t piece) {
    auto batch = std::make_shared<Batch>();
    if (!read(piece, *batch)) sound = false;
    return batch;
  };
  const auto join = [&](const Piece& piece) { append(whole, std::move(*piece), count - ++joined); };
  using tbb::filter_mode;
  tbb::parallel_pipeline(kInWork,
                         tbb::make_filter<void, std::size_t>(filter_mode::serial_in_order, begin) &
                             tbb::make_filter<std::size_t, Piece>(filter_mode::parallel, read_one) &
                             tbb::make_filter<Piece, void>(filter_mode::serial_in_order, join));
  if (!sound) return std::nullopt;
  return whole;
}

void report_second_use(const GivenId& given, const document::Mark& first,
                       document::Diagnostics& diagnostics) {
  document::Diagnostic finding;
  finding.mark = given.mark;
  finding.message = "the id `" + given.id + "` is used twice";
  finding.hint = "give one of the two parts another id";
  finding.second_mark = first;
  finding.second_message = "first used here";
  diagnostics.add(std::move(finding));
}

}  // namespace

const document::Mark* IdRegistry::find(std::string_view id) const {
  if (const auto other = others_.find(id); other != others_.end()) return &other->second;
  for (const std::vector<GivenId>& list : ascending_) {
    const auto place = std::ranges::lower_bound(list, id, {}, &GivenId::id);
    if (place != list.end() && place->id == id) return &place->mark;
  }
  return nullptr;
}

void IdRegistry::add(GivenId&& given) { others_.emplace(std::move(given.id), given.mark); }

void IdRegistry::add_ascending(std::vector<GivenId>&& list) {
  ascending_.push_back(std::move(list));
}

void merge(Batch&& batch, Gathered& gathered) {
  constexpr std::size_t kLong = 64;
  const auto descends = [](const GivenId& a, const GivenId& b) { return a.id >= b.id; };
  const bool ascending = batch.ids.size() >= kLong &&
                         std::ranges::adjacent_find(batch.ids, descends) == batch.ids.end();
  // A second use of an id is told where the id was read.
  std::size_t told = 0;
  const auto tell = [&](std::size_t end) {
    for (; told < end; ++told) gathered.diagnostics.add(batch.diagnostics.all()[told]);
  };
  for (GivenId& given : batch.ids) {
    tell(given.findings);
    if (const document::Mark* first = gathered.ids.find(given.id)) {
      report_second_use(given, *first, gathered.diagnostics);
    } else if (!ascending) {
      gathered.ids.add(std::move(given));
    }
  }
  tell(batch.diagnostics.all().size());
  if (ascending) gathered.ids.add_ascending(std::move(batch.ids));
  gathered.all_named = gathered.all_named && batch.all_named;
  append(gathered.catalogue, std::move(batch.catalogue), 0);
  if (gathered.inputs != nullptr) append(*gathered.inputs, std::move(batch.inputs), 0);
  if (gathered.written != nullptr) append(gathered.written->entries, std::move(batch.written), 0);
}

bool read_pieces(std::size_t count, const ReadPiece& read, Gathered& gathered) {
  if (count == 0) return true;
  if (count == 1) {
    Batch batch;
    if (!read(0, batch)) return false;
    merge(std::move(batch), gathered);
    return true;
  }
  std::optional<Batch> whole = join_pieces(count, read);
  if (!whole) return false;
  merge(std::move(*whole), gathered);
  return true;
}

}  // namespace sprocketry::parts
