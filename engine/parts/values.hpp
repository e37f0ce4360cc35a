#pragma once

#include <array>
#include <cstddef>
#include <initializer_list>
#include <map>
#include <memory_resource>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "document/diagnostics.hpp"
#include "document/node.hpp"
#include "parts/catalogue.hpp"
#include "units/units.hpp"

// Reading one located value. Every function reports what is wrong at the value's place and then
// returns nothing. `name` is the key as the person wrote it, for messages.
namespace sprocketry::parts {

// What a quantity must be: its dimension and the SI interval that is believable for it.
struct QuantityRule {
  units::Dimension dimension;
  double min = 0;
  double max = 0;
  bool above_min = false;         // min itself is refused
  std::string_view example = {};  // "60 km", for messages; "": the dimension's
};
std::string_view example_of(const QuantityRule& rule);

// The same for a plain number.
struct NumberRule {
  double min = 0;
  double max = 0;
  bool above_min = false;
};

struct IntegerRule {
  int min = 0;
  int max = 0;
};

// A unit as it was written, so that text for people can answer in it.
struct WrittenUnit {
  units::Dimension dimension;
  std::string_view symbol;
  document::Mark mark;
};

// A number that was read, or taken because it was not stated; what it may be at all.
struct Input {
  std::string path;     // "bike.drag_area", "motors.hollin-48.resistance"
  std::string pattern;  // that of all parts of its list, "motors.*.resistance"; else the path
  double value = 0;     // SI, or a plain number, or an amount of the currency
  std::optional<units::Dimension> dimension;  // nothing: a number without a unit
  std::string_view symbol;                    // the unit that it is written in; "" for a number
  double min = 0;
  double max = 0;
  bool above_min = false;
  bool stated = true;
};

// Values that take the place of what is read, by path; how an uncertain input is varied.
using Replaced = std::map<std::string, double, std::less<>>;

// Whether the reader keeps the inputs that it meets, or reads others in their place.
struct Tampering {
  std::vector<Input>* inputs = nullptr;
  const Replaced* replaced = nullptr;
};

// Memory for what is only needed until an entry is read: reading a part allocates nothing else.
struct Scratch {
  std::array<std::byte, 8192> first{};
  std::pmr::monotonic_buffer_resource memory{first.data(), first.size()};
};

// Where reading leaves its findings; one per run.
struct Findings {
  document::Diagnostics& diagnostics;
  std::vector<Default>& defaults;
  std::vector<WrittenUnit> written = {};
  Tampering tampering = {};
  std::string entry = {};  // "motors.hollin-48" while that part is read
  Scratch scratch = {};    // of the readers; they must be gone when it is released
};

std::optional<double> read_quantity(const document::Node& node, std::string_view name,
                                    const QuantityRule& rule, Findings& findings);
std::optional<double> read_number(const document::Node& node, std::string_view name,
                                  const NumberRule& rule, Findings& findings);
std::optional<int> read_integer(const document::Node& node, std::string_view name,
                                const IntegerRule& rule, Findings& findings);
// yes, no, true, false in any case.
std::optional<bool> read_boolean(const document::Node& node, std::string_view name,
                                 Findings& findings);
// A text that is not empty; at most 1000 code units.
std::optional<std::string> read_text(const document::Node& node, std::string_view name,
                                     Findings& findings);
// An id: 1 to `longest` letters, digits, '.', '_' or '-', because design ids join ids with '/' and
// ':'. The id of a pack made of cells is its cell's with a tail such as "x1000s1000p".
inline constexpr std::size_t kMaxId = 64;
inline constexpr std::size_t kMaxPackId = kMaxId + std::string_view("x1000s1000p").size();
std::optional<std::string> read_id(const document::Node& node, std::string_view name,
                                   Findings& findings, std::size_t longest = kMaxId);
// An amount of the currency, 0 to 1e9, rounded to 1/10000.
inline constexpr double kMaxMoney = 1e9;
std::optional<Money> read_money(const document::Node& node, std::string_view name,
                                Findings& findings);
// One of the words; the index in `choices`.
std::optional<std::size_t> read_choice(const document::Node& node, std::string_view name,
                                       std::span<const std::string_view> choices,
                                       Findings& findings);
inline std::optional<std::size_t> read_choice(const document::Node& node, std::string_view name,
                                              std::initializer_list<std::string_view> choices,
                                              Findings& findings) {
  return read_choice(node, name, std::span(choices.begin(), choices.size()), findings);
}
// The items of a list that is not empty; nullptr when it is something else. `required` is for what
// to do: a list that may be left out is better left out than empty.
const std::vector<document::Node>* read_list(const document::Node& node, std::string_view name,
                                             std::string_view example, Findings& findings,
                                             bool required = true);
// Reports a list of more than kMaxItems entries, which nobody means.
inline constexpr std::size_t kMaxItems = 100000;
bool is_short_enough(std::size_t count, const document::Mark& mark, std::string_view name,
                     Findings& findings);
// Whole numbers as one number, a list, or {from, to}; ascending, each once; empty after an error.
std::vector<int> read_integers(const document::Node& node, std::string_view name,
                               const IntegerRule& rule, Findings& findings);

// "a list", "the text \"abc\"", "nothing": what stands at a node, for messages.
std::string found_at(const document::Node& node);
// A number for a sentence: six significant digits at most.
std::string number_text(double value);
// A finite decimal number that is the whole of `text`, locale-free; nothing otherwise.
std::optional<double> decimal(std::string_view text);
// "a, b and c".
std::string joined(const std::vector<std::string_view>& words, std::string_view last = "and");
// "did you mean `x`?" for the nearest candidate, or "" when none is near.
std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& candidates);

}  // namespace sprocketry::parts
