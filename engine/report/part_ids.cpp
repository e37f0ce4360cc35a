#include "report/part_ids.hpp"

#include <algorithm>
#include <array>
#include <charconv>

namespace sprocketry::report {
namespace {

// The lists of a parts file whose entries have defaults.
constexpr std::array<std::string_view, 7> kLists = {
    "motors.", "controllers.",     "cells.",         "chargers.",
    "chains.", "front_sprockets.", "rear_sprockets."};

std::string prefix(std::size_t list, std::string_view id) {
  return std::string(kLists[list]).append(id) + '.';
}

// Takes what comes before the next '/', or the rest.
std::string take_word(std::string_view& text) {
  const std::size_t end = std::min(text.find('/'), text.size());
  std::string word(text.substr(0, end));
  text.remove_prefix(std::min(end + 1, text.size()));
  return word;
}

// Cuts ":12" off a family; false when it is not there.
bool take_teeth(std::string& family, int& teeth) {
  const std::size_t colon = family.rfind(':');
  if (colon == std::string::npos) return false;
  const char* const end = family.data() + family.size();
  const auto [read, error] = std::from_chars(family.data() + colon + 1, end, teeth);
  if (error != std::errc{} || read != end) return false;
  family.resize(colon);
  return true;
}

}  // namespace

PartIds part_ids(const rules::Selection& s) {
  return {
      s.motor->id, s.controller->id, s.pack->id,    s.charger ? s.charger->id : rules::kNoCharger,
      s.chain->id, s.front->id,      s.front_teeth, s.rear->id,
      s.rear_teeth};
}

std::optional<PartIds> part_ids(std::string_view id) {
  if (std::ranges::count(id, '/') != 6) return std::nullopt;
  PartIds parts;
  for (std::string* word : {&parts.motor, &parts.controller, &parts.pack, &parts.charger,
                            &parts.chain, &parts.front, &parts.rear}) {
    *word = take_word(id);
  }
  const bool sound =
      take_teeth(parts.front, parts.front_teeth) && take_teeth(parts.rear, parts.rear_teeth);
  return sound ? std::optional(std::move(parts)) : std::nullopt;
}

std::string design_id(const PartIds& p) {
  return p.motor + '/' + p.controller + '/' + p.pack + '/' + p.charger + '/' + p.chain + '/' +
         p.front + ':' + std::to_string(p.front_teeth) + '/' + p.rear + ':' +
         std::to_string(p.rear_teeth);
}

void PartsInUse::add(const PartIds& parts, std::string_view cell) {
  std::size_t list = 0;
  for (const std::string_view id :
       {std::string_view(parts.motor), std::string_view(parts.controller), cell,
        std::string_view(parts.charger), std::string_view(parts.chain),
        std::string_view(parts.front), std::string_view(parts.rear)}) {
    prefixes_.insert(prefix(list++, id));
  }
}

bool PartsInUse::has_default(std::string_view key) const {
  return std::ranges::any_of(prefixes_,
                             [&](const std::string& prefix) { return key.starts_with(prefix); });
}

bool is_of_a_part(std::string_view key) {
  return std::ranges::any_of(kLists, [&](std::string_view list) { return key.starts_with(list); });
}

}  // namespace sprocketry::report
