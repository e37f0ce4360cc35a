#include "search/space.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <set>
#include <string_view>

#include "parts/voltage_class.hpp"

namespace sprocketry::search {
namespace {

using parts::Catalogue;
using spec::Choice;

class Owned {
 public:
  explicit Owned(const std::vector<std::string>& ids) : ids_(ids.begin(), ids.end()) {}
  [[nodiscard]] bool has(std::string_view id) const { return ids_.contains(id); }
  [[nodiscard]] bool has(std::string_view family, int teeth) const {
    return has(family) || ids_.contains(std::string(family) + ':' + std::to_string(teeth));
  }

 private:
  std::set<std::string, std::less<>> ids_;
};

template <typename T>
bool allows(const std::optional<std::vector<T>>& choice, const T& value) {
  return !choice || std::ranges::find(*choice, value) != choice->end();
}

bool allows_chain(const spec::ChainChoice& choice, const parts::ChainPart& chain) {
  if (choice.sizes_or_ids) {
    const auto& named = *choice.sizes_or_ids;
    return std::ranges::any_of(
        named, [&](const std::string& n) { return n == chain.size || n == chain.id; });
  }
  if (choice.pitches) {
    constexpr double kSamePitch = 1e-6;  // m; inch and millimetre spellings of one pitch
    return std::ranges::any_of(*choice.pitches, [&](double pitch) {
      return std::abs(pitch - chain.model.pitch) <= kSamePitch;
    });
  }
  return true;
}

bool in_voltage_class(const std::optional<std::vector<double>>& classes, double nominal) {
  return !classes || parts::voltage_class(*classes, nominal).has_value();
}

// Series counts whose nominal voltage falls into a named class.
std::vector<int> series_of_classes(const parts::CellPart& cell,
                                   const std::vector<double>& classes) {
  std::vector<int> series;
  constexpr int kMostSeries = 1000;
  const double highest = *std::ranges::max_element(classes);
  for (int s = 1; s <= kMostSeries && s * cell.model.nominal_voltage <= 1.2 * highest; ++s) {
    if (in_voltage_class(classes, s * cell.model.nominal_voltage)) series.push_back(s);
  }
  return series;
}

std::vector<parts::PackPart> generated_packs(const Catalogue& catalogue,
                                             const spec::PackChoice& choice,
                                             const model::CellState& state) {
  std::vector<parts::PackPart> packs;
  const std::vector<int> parallel = choice.parallel.value_or(std::vector<int>{1});
  for (const parts::CellPart& cell : catalogue.cells) {
    if (!allows(choice.cells, cell.id)) continue;
    const std::vector<int> series = choice.series ? *choice.series
                                    : choice.voltage_classes
                                        ? series_of_classes(cell, *choice.voltage_classes)
                                        : std::vector<int>{};
    if (series.empty()) continue;
    const parts::PackPart one = parts::make_pack_part(cell, {}, 1, 1, state);
    for (const int s : series) {
      for (const int p : parallel) {
        packs.push_back(parts::resized(cell, one, parts::pack_id(cell.id, s, p), s, p));
      }
    }
  }
  return packs;
}

// "slate-100x16s1p" as a pack of a cell of the catalogue.
std::optional<parts::PackPart> pack_from_id(const Catalogue& catalogue, const std::string& id,
                                            const model::CellState& state) {
  for (const parts::NamedPack& named : catalogue.packs) {
    if (named.id != id) continue;
    return parts::make_pack_part(*catalogue.find_cell(named.cell_id), named.id, named.series,
                                 named.parallel, state);
  }
  const auto generated = parts::split_pack_id(id);
  const parts::CellPart* cell = generated ? catalogue.find_cell(generated->cell_id) : nullptr;
  if (cell == nullptr) return std::nullopt;
  return parts::make_pack_part(*cell, id, generated->series, generated->parallel, state);
}

std::vector<parts::PackPart> named_packs(const Catalogue& catalogue,
                                         const model::CellState& state) {
  std::vector<parts::PackPart> packs;
  for (const parts::NamedPack& named : catalogue.packs) {
    packs.push_back(*pack_from_id(catalogue, named.id, state));
  }
  return packs;
}

std::vector<parts::PackPart> chosen_packs(const Catalogue& catalogue,
                                          const spec::PackChoice& choice,
                                          const model::CellState& state) {
  std::vector<parts::PackPart> packs;
  if (choice.ids) {
    for (const std::string& id : *choice.ids) {
      if (auto pack = pack_from_id(catalogue, id, state)) packs.push_back(std::move(*pack));
    }
  } else if (choice.cells || choice.series || choice.parallel) {
    packs = generated_packs(catalogue, choice, state);
  } else {
    packs = named_packs(catalogue, state);
  }
  std::erase_if(packs, [&](const parts::PackPart& pack) {
    return !in_voltage_class(choice.voltage_classes, pack.model.nominal_voltage);
  });
  return packs;
}

// By id, each id once. Packs are large, so their places are sorted and each is moved once.
std::vector<PackOption> pack_options(std::vector<parts::PackPart> packs, const Owned& owned) {
  std::vector<std::uint32_t> order(packs.size());
  std::iota(order.begin(), order.end(), 0U);
  const auto id = [&](std::uint32_t i) -> const std::string& { return packs[i].id; };
  std::ranges::sort(order, {}, id);
  const auto same = [&](std::uint32_t a, std::uint32_t b) { return id(a) == id(b); };
  order.erase(std::unique(order.begin(), order.end(), same), order.end());
  std::vector<PackOption> options;
  options.reserve(order.size());
  for (const std::uint32_t i : order) {
    const bool free = owned.has(packs[i].id) || owned.has(packs[i].cell_id);
    const Money price = free ? 0 : packs[i].price;
    options.push_back({std::move(packs[i]), price});
  }
  return options;
}

template <typename Option, typename Family>
void add_sprockets(std::vector<Option>& options, const std::vector<Family>& families,
                   const std::optional<std::vector<std::string>>& chosen,
                   const std::optional<std::vector<int>>& teeth, const Owned& owned) {
  for (const Family& family : families) {
    if (!allows(chosen, family.id)) continue;
    for (const int n : family.teeth) {
      if (!allows(teeth, n)) continue;
      const Money bought = owned.has(family.id, n) ? 0 : family.price.at(n);
      options.push_back({&family, n, bought + family.fabrication, family.mass.at(n)});
    }
  }
}

Space make(const spec::Job& job, const Choice& choice, std::vector<parts::PackPart> packs) {
  const Catalogue& catalogue = job.catalogue;
  const Owned owned(job.requirement.owned);
  Space space;
  space.requirement = &job.requirement;
  for (const auto& motor : catalogue.motors) {
    if (allows(choice.motors, motor.id)) {
      space.motors.push_back({&motor, owned.has(motor.id) ? 0 : motor.price});
    }
  }
  for (const auto& controller : catalogue.controllers) {
    if (allows(choice.controllers, controller.id)) {
      space.controllers.push_back({&controller, owned.has(controller.id) ? 0 : controller.price});
    }
  }
  space.packs = pack_options(std::move(packs), owned);
  for (const auto& charger : catalogue.chargers) {
    if (allows(choice.chargers, charger.id)) {
      space.chargers.push_back({&charger, owned.has(charger.id) ? 0 : charger.price,
                                charger.carried ? charger.mass : 0.0});
    }
  }
  if (catalogue.chargers.empty()) space.chargers.push_back({});
  for (const auto& chain : catalogue.chains) {
    if (allows_chain(choice.chain, chain)) space.chains.push_back({&chain, owned.has(chain.id)});
  }
  add_sprockets(space.fronts, catalogue.front_sprockets, choice.front_sprockets, choice.front_teeth,
                owned);
  add_sprockets(space.rears, catalogue.rear_sprockets, choice.rear_sprockets, choice.rear_teeth,
                owned);
  for (const auto& extra : catalogue.extras) {
    space.extras.push_back({&extra, owned.has(extra.id) ? 0 : extra.price});
  }
  return space;
}

}  // namespace

std::string_view id_of(const MotorOption& o) { return o.part->id; }
std::string_view id_of(const ControllerOption& o) { return o.part->id; }
std::string_view id_of(const PackOption& o) { return o.part.id; }
std::string_view id_of(const ChargerOption& o) {
  return o.part ? std::string_view(o.part->id) : rules::kNoCharger;
}
std::string_view id_of(const ChainOption& o) { return o.part->id; }
std::string_view id_of(const FrontOption& o) { return o.family->id; }
std::string_view id_of(const RearOption& o) { return o.family->id; }

Count Space::combinations() const {
  return Count{motors.size()} * controllers.size() * packs.size() * chargers.size() *
         chains.size() * fronts.size() * rears.size();
}

Space make_space(const spec::Job& job) {
  const Choice& choice = job.requirement.choose;
  return make(job, choice,
              chosen_packs(job.catalogue, choice.pack, job.requirement.conditions.pack));
}

Space whole_catalogue(const spec::Job& job, const std::optional<std::string>& pack) {
  const model::CellState& state = job.requirement.conditions.pack;
  std::vector<parts::PackPart> packs =
      chosen_packs(job.catalogue, job.requirement.choose.pack, state);
  for (auto& named : named_packs(job.catalogue, state)) packs.push_back(std::move(named));
  if (pack) {
    if (auto wanted = pack_from_id(job.catalogue, *pack, state))
      packs.push_back(std::move(*wanted));
  }
  return make(job, Choice{}, std::move(packs));
}

Money chain_price(const ChainOption& chain, int links) {
  if (chain.owned || links <= chain.running_links) return 0;
  if (chain.part->box_links == 0) return chain.part->price * links;
  const int boxes = (links + chain.part->box_links - 1) / chain.part->box_links;
  return chain.part->price * boxes;
}

double chain_mass(const parts::ChainPart& chain, int links) {
  return chain.model.mass_per_length * (chain.model.pitch * links);
}

bool needed(const parts::Extra& extra, const parts::PackPart& pack, double battery_current) {
  return extra.full_voltage.contains(pack.model.full_voltage) &&
         extra.nominal_voltage.contains(pack.model.nominal_voltage) &&
         extra.battery_current.contains(battery_current);
}

ExtrasCost extras_cost(const Space& space, const parts::PackPart& pack, double battery_current) {
  ExtrasCost cost;
  for (const ExtraOption& extra : space.extras) {
    if (!needed(*extra.part, pack, battery_current)) continue;
    cost.price += extra.price;
    cost.mass += extra.part->mass;
  }
  return cost;
}

}  // namespace sprocketry::search
