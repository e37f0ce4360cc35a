#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "document/diagnostics.hpp"
#include "parts/catalogue.hpp"
#include "parts/load.hpp"
#include "parts/values.hpp"

// Reading a long list by several threads as if it were read entry by entry: pieces of fixed length
// leave what they find in batches, and these are merged in the order of the entries.
namespace sprocketry::parts {

// An id that was given to a part, and how many findings of its batch stand before it.
struct GivenId {
  std::string id;
  document::Mark mark;
  std::size_t findings = 0;
};

// What the reading of some entries gave.
struct Batch {
  Catalogue catalogue;
  document::Diagnostics diagnostics;  // without sources: the marks point into those of the run
  std::vector<GivenId> ids;
  bool all_named = true;  // no id could not be read
  std::vector<Input> inputs;
  std::vector<WrittenPart> written;
};

// Where each id was first given: an id may be used once over all lists and files.
class IdRegistry {
 public:
  // The first use of an id, or nullptr.
  [[nodiscard]] const document::Mark* find(std::string_view id) const;
  // An id that is not known yet.
  void add(GivenId&& given);
  // The same for a long list in strictly ascending order, as lists tend to be, but some of them may
  // be known.
  void add_ascending(std::vector<GivenId>&& list);

 private:
  std::map<std::string, document::Mark, std::less<>> others_;
  std::vector<std::vector<GivenId>> ascending_;  // in the order of reading
};

// What all batches of a run go into.
struct Gathered {
  Catalogue& catalogue;
  document::Diagnostics& diagnostics;
  IdRegistry ids = {};
  bool all_named = true;
  std::vector<Input>* inputs = nullptr;  // where the inputs are kept, if anywhere
  WrittenParts* written = nullptr;       // where entries are kept, if anywhere
};

void merge(Batch&& batch, Gathered& gathered);

// Reads the entries of a piece of a list into a batch; false when they cannot be read at all.
using ReadPiece = std::function<bool(std::size_t piece, Batch& batch)>;

// Reads so many pieces and merges what they gave, in their order. False, with nothing merged, when
// some of them could not be read.
bool read_pieces(std::size_t count, const ReadPiece& read, Gathered& gathered);

}  // namespace sprocketry::parts
