#pragma once

#include <cstdint>
#include <memory_resource>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "document/node.hpp"
#include "parts/values.hpp"

namespace sprocketry::parts {

// Reads the keys of one map. Each getter remembers its key, so that finish() can report what is
// left over with the nearest key that would have been understood. A value that is missing although
// required, of the wrong type or out of range is reported where it stands, and the getter returns
// nothing. A node that is no map is reported once; all getters then return nothing without a word.
// Keys are literals or from tables: they must outlive the reader, as node and findings must.
class Reader {
 public:
  // `at` is the place to point at when a key is missing; `path` names the map in defaults
  // ("bike", "motors.hollin-48"; empty for the root); `what` names it in sentences ("the bike").
  // Node and findings must outlive the reader. `example` is for who wrote no map here.
  Reader(const document::Node& node, const document::Mark& at, std::string_view path,
         std::string_view what, Findings& findings, std::string_view example = {});

  // Required values. `example` completes "add a line such as `key: example`".
  std::optional<double> quantity(std::string_view key, const QuantityRule& rule);
  std::optional<double> number(std::string_view key, const NumberRule& rule,
                               std::string_view example);
  std::optional<int> integer(std::string_view key, const IntegerRule& rule,
                             std::string_view example);
  std::optional<std::string> text(std::string_view key, std::string_view example);
  std::optional<std::string> id(std::string_view key, std::string_view example);
  std::optional<Money> money(std::string_view key, std::string_view example);
  const std::vector<document::Node>* list(std::string_view key, std::string_view example);

  // Values that may be left out; nothing when they are (or are wrong).
  std::optional<double> optional_quantity(std::string_view key, const QuantityRule& rule);
  std::optional<double> optional_number(std::string_view key, const NumberRule& rule);
  std::optional<int> optional_integer(std::string_view key, const IntegerRule& rule);
  std::optional<bool> optional_boolean(std::string_view key);
  std::optional<std::string> optional_text(std::string_view key);
  std::optional<Money> optional_money(std::string_view key);
  const std::vector<document::Node>* optional_list(std::string_view key, std::string_view example);

  // Values with a default, which is recorded with its source when it is used; the source is a
  // literal or from a table. `fallback` is the default as a person would write it; it is read like
  // any other value.
  double quantity_or(std::string_view key, const QuantityRule& rule, std::string_view fallback,
                     std::string_view source);
  double number_or(std::string_view key, const NumberRule& rule, std::string_view fallback,
                   std::string_view source);
  bool boolean_or(std::string_view key, bool fallback, std::string_view source);
  void record_default(std::string_view key, std::string value, std::string_view source);
  // A default that follows from other values, in SI, written in `symbol`: what was taken, or what
  // takes its place (see Tampering).
  double derived(std::string_view key, double value, const QuantityRule& rule,
                 std::string_view symbol);

  // The map under `key` as a reader of its own; its finish() must be called as well. Nothing when
  // the key is absent. Without a name in sentences it is "`thermal` of `hollin-48`". The example,
  // "{min: 70 km/h}", is for who wrote no map there: of one key it shows the value that was
  // written.
  std::optional<Reader> optional_map(std::string_view key, std::string_view what = {},
                                     std::string_view example = {});
  // An item of the list under `key`, by its position, as a reader of its own.
  Reader item(std::string_view key, std::size_t position, const document::Node& node,
              std::string_view what);
  // Reports an absent key; the reader is valid() only when the map is there.
  std::optional<Reader> map(std::string_view key, std::string_view what, std::string_view example);

  // The node under `key`, which counts as known from now on; nullptr when absent or empty. An
  // empty value is reported.
  const document::Node* take(std::string_view key);
  // The same, reported when absent.
  const document::Node* require(std::string_view key, std::string_view example);

  // Reports the keys that nobody took, with the nearest known key.
  void finish();

  // Reports `lower` above `upper` (both keys of this map) with both places. Equal values pass
  // unless `strictly`.
  void check_ascending(std::string_view lower, std::optional<double> low, std::string_view upper,
                       std::optional<double> high, std::string_view rule, bool strictly = false);

  [[nodiscard]] bool is_map() const;
  // Whether the key was written, rightly or wrongly.
  [[nodiscard]] bool has(std::string_view key) const { return entry(key) != nullptr; }
  [[nodiscard]] const document::Mark& mark() const { return at_; }
  // The place of a key's value, or of the map when the key is absent.
  [[nodiscard]] document::Mark mark_of(std::string_view key) const;
  [[nodiscard]] std::string path() const { return std::string(path_); }
  [[nodiscard]] std::string what() const { return std::string(what_); }
  // Whether the keys of this map are columns of a table, their names written in its first line.
  [[nodiscard]] bool in_table() const;
  // The name that the column of a key has there: "thermal.max_winding".
  [[nodiscard]] std::string column_of(std::string_view key) const;
  [[nodiscard]] Findings& findings() { return *findings_; }
  void error(std::string_view key, std::string message, std::string hint = {});

 private:
  [[nodiscard]] const document::Entry* entry(std::string_view key) const;
  void remember(std::string_view key, const document::Entry* found);
  Reader below(std::string_view key, const document::Node& node, const document::Mark& at,
               std::string_view what, std::string_view example = {});
  [[nodiscard]] std::string path_of(std::string_view key) const;
  [[nodiscard]] bool tampers() const;
  // Keeps an input, its path still missing, or replaces its value; returns what counts.
  double met(std::string_view key, Input input);
  // Reports a list of a table whose columns do not count its items.
  bool is_split_list(std::string_view key, std::string_view example);
  std::optional<double> met_quantity(std::string_view key, std::optional<double> value,
                                     const QuantityRule& rule);
  std::optional<double> met_number(std::string_view key, std::optional<double> value,
                                   const NumberRule& rule);
  std::optional<Money> met_money(std::string_view key, std::optional<Money> value);

  const document::Node* node_;
  document::Mark at_;
  Findings* findings_;
  std::pmr::string path_;
  std::pmr::string what_;
  std::pmr::vector<std::string_view> known_;
  std::uint64_t taken_ = 0;  // a bit for each of the first entries: whether its key is known
};

}  // namespace sprocketry::parts
