#pragma once

#include <string>
#include <vector>

#include "search/side.hpp"

namespace sprocketry::search {

// A part of the bike that runs today, and what takes its place.
struct Exchanged {
  std::string slot;  // "motor", ..., "front_sprocket"
  std::string
      from;  // "keld-150", "hub-420-78:12"; of a chain with its links, "linkage-420, 126 links"
  std::string to;
  Money price = 0;  // to be paid; 0 when owned
  // What would reject the new design with the old part kept and does not reject it anyway, in
  // published order: rules of fit and rating, and demands that it would miss. Both empty: it would
  // do, and is exchanged because the new one serves the aims better.
  std::vector<std::string> no_longer_fits;
  std::vector<std::string> misses;
  // The slots of other new parts that the old one does not go with, when all of `no_longer_fits` is
  // between them and it; empty when it does not fit what stays, or the bike.
  std::vector<std::string> clashes_with;
};

// An extra that is bought, or of no more use, and why.
struct ExtraChange {
  std::string id;
  Money price = 0;     // of one that is bought
  std::string reason;  // "full voltage 73 V, it is for 60 V and more"
};

// A part that stays although it does not go with the others, and the rules that say so.
struct Misfit {
  std::string part;  // "controller vane-120"
  std::vector<std::string> rules;
};

// What it takes to turn the running bike into a design.
struct Upgrade {
  std::string design;
  Money price = 0;  // all that is bought
  std::vector<Exchanged> exchanged;
  std::vector<std::string> kept;  // "motor hollin-48"
  std::vector<Misfit> misfits;    // of the kept ones, in a design that a rule rejects
  std::vector<ExtraChange> bought;
  std::vector<ExtraChange> dropped;
};

// From the running bike to one member of the side's front, whose space counts the running parts
// nothing.
Upgrade upgrade_to(const Running& running, const Side& side, std::size_t member);

}  // namespace sprocketry::search
