#pragma once

#include <optional>
#include <string>

#include "ranks.hpp"
#include "search/search.hpp"

namespace sprocketry::cli {

// Whether every rank read the same question (the digest of what it read; nothing where that is
// wrong). If not, rank 0 says on standard error what the others have to say. Each rank calls it,
// and gets the same answer.
bool agree(Ranks& ranks, const std::optional<std::string>& question);

// Searches a space with all ranks, each a slice of it, which tell each other at fixed points what
// they have found. The front on rank 0, which is that of one search alone; nothing on the others.
std::optional<search::Front> search_on_ranks(Ranks& ranks, const search::Setup& setup,
                                             const search::Space& space,
                                             search::SearchOptions options);

}  // namespace sprocketry::cli
