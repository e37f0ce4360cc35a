#pragma once

#include <vector>

#include "document/node.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {

// A voltage class of `choose.pack.voltage` and where it was written.
struct VoltageClass {
  double voltage = 0;  // V, nominal
  const document::Node* node = nullptr;
};

// Warns of each class that no pack falls into: one that `choice` generates from cells or, when it
// generates none (`generates` false), one of the named packs. Other classes may still be met, so it
// is no error.
void warn_of_empty_classes(const std::vector<VoltageClass>& classes, const PackChoice& choice,
                           bool generates, const parts::Catalogue& catalogue, Findings& findings);

}  // namespace sprocketry::spec
