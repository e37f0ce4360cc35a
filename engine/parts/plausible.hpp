#pragma once

#include "document/diagnostics.hpp"
#include "parts/catalogue.hpp"

namespace sprocketry::parts {

// Warns about numbers of one part that each may be right but together are hard to believe: thermal
// data that cannot hold the part's own continuous rating, speeds that its voltage never reaches,
// ratings that its resistance turns into heat. Thresholds are common practice, no source.
void warn_implausible(const Catalogue& catalogue, document::Diagnostics& diagnostics);

}  // namespace sprocketry::parts
