#include "slice.hpp"

#include <charconv>
#include <string_view>
#include <vector>

#include "complain.hpp"
#include "document/digest.hpp"

namespace sprocketry::cli {
namespace {

// A whole number without a sign, or nothing.
std::optional<std::size_t> number(std::string_view text) {
  std::size_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc{} && end == text.data() + text.size();
  return whole ? std::optional(value) : std::nullopt;
}

}  // namespace

std::optional<search::Slice> read_slice(const std::string& text) {
  const std::size_t stroke = text.find('/');
  if (stroke != std::string::npos) {
    const auto index = number(std::string_view(text).substr(0, stroke));
    const auto of = number(std::string_view(text).substr(stroke + 1));
    if (index && of && *index >= 1 && *index <= *of && *of <= search::kMostSlices) {
      return search::Slice{*index, *of};
    }
  }
  complain("--slice: '" + text + "' is no slice; write for example 3/16 for the third of 16, of " +
           std::to_string(search::kMostSlices) + " at most");
  return std::nullopt;
}

std::string question_digest(const document::Diagnostics& read, const JobOptions& job,
                            const std::string& rules) {
  std::vector<std::string_view> texts = {SPROCKETRY_VERSION, rules};
  for (const document::Source& source : read.sources()) texts.emplace_back(source.text);
  texts.emplace_back("set");
  texts.insert(texts.end(), job.overrides.begin(), job.overrides.end());
  return document::sha256_of_all(texts);
}

}  // namespace sprocketry::cli
