#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/selection.hpp"
#include "spec/load.hpp"

namespace sprocketry::search {

using parts::Money;
// 128 bits: a product of eight catalogues overflows 64.
__extension__ typedef unsigned __int128 Count;

// An option of a slot with its price for this person (0 when owned).
struct MotorOption {
  const parts::MotorPart* part = nullptr;
  Money price = 0;
};
struct ControllerOption {
  const parts::ControllerPart* part = nullptr;
  Money price = 0;
};
struct PackOption {
  parts::PackPart part;
  Money price = 0;
};
struct ChargerOption {
  const parts::ChargerPart* part = nullptr;  // null: none
  Money price = 0;
  double carried_mass = 0;  // kg that ride along
};
struct ChainOption {
  const parts::ChainPart* part = nullptr;
  bool owned = false;
  int running_links = 0;  // a chain of this kind and so many links is there already
};
struct FrontOption {
  const parts::FrontSprocketFamily* family = nullptr;
  int teeth = 0;
  Money price = 0;  // fabrication included, also of an owned sprocket
  double mass = 0;  // kg
};
struct RearOption {
  const parts::RearSprocketFamily* family = nullptr;
  int teeth = 0;
  Money price = 0;
  double mass = 0;
};
struct ExtraOption {
  const parts::Extra* part = nullptr;
  Money price = 0;
};

// The id of an option's part, pack or family; rules::kNoCharger for none.
std::string_view id_of(const MotorOption& option);
std::string_view id_of(const ControllerOption& option);
std::string_view id_of(const PackOption& option);
std::string_view id_of(const ChargerOption& option);
std::string_view id_of(const ChainOption& option);
std::string_view id_of(const FrontOption& option);
std::string_view id_of(const RearOption& option);
// The same; of a sprocket with its teeth: "hub-420-78:12".
template <typename Option>
std::string name_of(const Option& option) {
  std::string name(id_of(option));
  if constexpr (requires { option.teeth; }) name += ':' + std::to_string(option.teeth);
  return name;
}

// The options of every slot after `choose`, each list in ascending order of id (then teeth). Points
// into the job, which must outlive it.
struct Space {
  const spec::Requirement* requirement = nullptr;
  std::vector<MotorOption> motors;
  std::vector<ControllerOption> controllers;
  std::vector<PackOption> packs;
  std::vector<ChargerOption> chargers;
  std::vector<ChainOption> chains;
  std::vector<FrontOption> fronts;
  std::vector<RearOption> rears;
  std::vector<ExtraOption> extras;

  // The plain product of the option counts, before any rule.
  [[nodiscard]] Count combinations() const;
};
Space make_space(const spec::Job& job);

// The same without `choose`: everything in the catalogue, the packs that `choose` generates, and
// the pack of that id when its cell is there.
Space whole_catalogue(const spec::Job& job, const std::optional<std::string>& pack = {});

// Chain price: whole boxes, or links; 0 when owned, or when one at least as long is there.
Money chain_price(const ChainOption& chain, int links);
// Chain mass in kg by its length.
double chain_mass(const parts::ChainPart& chain, int links);

// What the extras of a level add.
struct ExtrasCost {
  Money price = 0;
  double mass = 0;  // kg
};
// True when an extra is bought for a pack and a set battery current (A).
bool needed(const parts::Extra& extra, const parts::PackPart& pack, double battery_current);
ExtrasCost extras_cost(const Space& space, const parts::PackPart& pack, double battery_current);

}  // namespace sprocketry::search
