#pragma once

#include <optional>
#include <string>

#include "search/search.hpp"
#include "search/setup.hpp"

namespace sprocketry::cli {

// Reads "pull_away=0.1 s,range=1 km,price=10": objectives of the setup with values of their own
// dimension; those left out are 0, matched exactly. Says on standard error what is wrong.
std::optional<search::Resolution> read_resolution(const std::string& text,
                                                  const search::Setup& setup);

}  // namespace sprocketry::cli
