#include "search/sampled_job.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>

namespace sprocketry::search {
namespace {

using Ids = std::set<std::string, std::less<>>;

Ids ids_of(std::span<const rules::Selection> designs) {
  Ids ids;
  for (const rules::Selection& d : designs) {
    ids.insert({d.motor->id, d.controller->id, d.pack->id, d.pack->cell_id, d.chain->id,
                d.front->id, d.rear->id});
    if (d.charger != nullptr) ids.insert(d.charger->id);
  }
  return ids;
}

template <typename T, typename Value>
std::vector<T> each_once(std::span<const rules::Selection> designs, const Value& value) {
  std::set<T> values;
  for (const rules::Selection& d : designs) values.insert(value(d));
  return {values.begin(), values.end()};
}

template <typename Options, typename Matches>
std::size_t place(const Options& options, const Matches& matches) {
  const auto found = std::ranges::find_if(options, matches);
  if (found == options.end()) throw std::logic_error("a design's part is not in its own space");
  return static_cast<std::size_t>(found - options.begin());
}

}  // namespace

SampleSource make_source(const spec::Job& job, const spec::WrittenJob& written,
                         std::span<const rules::Selection> designs) {
  SampleSource source;
  source.requirement = written.requirement;
  std::erase_if(source.requirement.entries, [](const document::Entry& entry) {
    return entry.key == "choose" || entry.key == "ride" || entry.key == "spread";
  });
  const Ids ids = ids_of(designs);
  for (const parts::WrittenPart& part : written.parts.entries) {
    const bool always = part.list == "tyres" || part.list == "extras";
    if (always || ids.contains(part.name)) source.parts.push_back(part);
  }
  source.choose.half_links = job.requirement.choose.half_links;
  source.choose.pack.ids =
      each_once<std::string>(designs, [](const auto& d) { return d.pack->id; });
  source.choose.front_teeth = each_once<int>(designs, [](const auto& d) { return d.front_teeth; });
  source.choose.rear_teeth = each_once<int>(designs, [](const auto& d) { return d.rear_teeth; });
  source.ride = job.requirement.ride;
  source.ride_name = job.requirement.ride_name;
  return source;
}

std::optional<spec::Job> sampled_job(const SampleSource& source, const parts::Replaced& replaced,
                                     std::string& why) {
  document::Diagnostics diagnostics;
  const spec::KeptJob kept{source.requirement, source.parts, nullptr, {}, {}};
  auto job = spec::load_kept_job(kept, spec::PartsFrom::kKept, diagnostics, nullptr, &replaced);
  if (!job) {
    why = diagnostics.all().empty() ? "" : diagnostics.all().front().message;
    return std::nullopt;
  }
  job->requirement.choose = source.choose;
  job->requirement.ride = source.ride;
  job->requirement.ride_name = source.ride_name;
  return job;
}

std::vector<Combination> places(const Space& space, std::span<const rules::Selection> designs) {
  std::vector<Combination> result;
  for (const rules::Selection& d : designs) {
    const auto part = [](const std::string& id) {
      return [&id](const auto& option) { return option.part->id == id; };
    };
    Combination c;
    c.motor = place(space.motors, part(d.motor->id));
    c.controller = place(space.controllers, part(d.controller->id));
    c.pack = place(space.packs, [&](const PackOption& o) { return o.part.id == d.pack->id; });
    c.charger = place(space.chargers, [&](const ChargerOption& o) {
      return d.charger == nullptr ? o.part == nullptr
                                  : o.part != nullptr && o.part->id == d.charger->id;
    });
    c.chain = place(space.chains, part(d.chain->id));
    c.front = place(space.fronts, [&](const FrontOption& o) {
      return o.family->id == d.front->id && o.teeth == d.front_teeth;
    });
    c.rear = place(space.rears, [&](const RearOption& o) {
      return o.family->id == d.rear->id && o.teeth == d.rear_teeth;
    });
    result.push_back(c);
  }
  return result;
}

}  // namespace sprocketry::search
