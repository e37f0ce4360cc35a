#pragma once

#include <string>
#include <vector>

#include "document/node.hpp"
#include "parts/batch.hpp"
#include "parts/catalogue.hpp"
#include "parts/load.hpp"
#include "parts/reader.hpp"

// How the loader of the catalogue is divided; one function per list. Each reads one entry and
// appends it even when something in it is wrong, so that whatever names the part is still found.
namespace sprocketry::parts {

inline constexpr std::string_view kCommonPractice = "common practice, no source";
inline constexpr std::string_view kNotStated = "not stated in the parts file";

// What reading an entry may touch.
struct Shelf {
  Catalogue& catalogue;
  Findings& findings;
  std::vector<GivenId>& ids;
  bool& all_named;  // no id could not be read
};

// An entry of a list begun: a reader named after its id ("motors.hollin-48"), and the id, which is
// registered; "" when it is missing or malformed.
struct Begun {
  Reader reader;
  std::string id;
};
Begun begin_entry(const document::Node& node, std::string_view list, Shelf& shelf);

void read_motor(const document::Node& node, Shelf& shelf);
void read_controller(const document::Node& node, Shelf& shelf);
void read_cell(const document::Node& node, Shelf& shelf);
void read_named_pack(const document::Node& node, Shelf& shelf);
void read_charger(const document::Node& node, Shelf& shelf);
void read_chain(const document::Node& node, Shelf& shelf);
void read_front_sprocket(const document::Node& node, Shelf& shelf);
void read_rear_sprocket(const document::Node& node, Shelf& shelf);
void read_tyre(const document::Node& node, Shelf& shelf);
void read_extra(const document::Node& node, Shelf& shelf);

// A chain size as the catalogue compares it: the standards table's name where it knows the size
// under another code.
std::string canonical_size(const std::string& size);

// {min, max} with at least one of both, ascending.
Interval read_interval(Reader& owner, std::string_view key, const QuantityRule& rule);

// The width of a key in m under the key of that name: a length, or `none` (0) for a plain shaft or
// bore.
std::optional<double> read_key_width(Reader& owner, std::string_view key = "key");

// {length, width, height}, and {diameter, length}; both finish the reader. Nothing after an error.
std::optional<model::Box> read_box(Reader& box);
std::optional<model::Cylinder> read_cylinder(Reader& cylinder);
// Either of the two under `key`, if it is there.
std::optional<model::Body> read_body(Reader& owner, std::string_view key);

// `price` or `mass` of a sprocket family: one amount, or {base, per_tooth}.
PerTooth<Money> read_price_per_tooth(Reader& owner);
PerTooth<double> read_mass_per_tooth(Reader& owner);

// Reads all files. `complete` is false when a file, a list or an id could not be read, so that an
// id that seems unknown may stand there.
struct LoadedCatalogue {
  Catalogue catalogue;
  bool complete = true;
};
// `written` gets what was read. Of `besides` every entry is added whose name no file gives to a
// part, so that what is gone from the files can still be computed. `tampering` as in Findings.
LoadedCatalogue load_parts_files(const std::vector<PartsFile>& files,
                                 document::Diagnostics& diagnostics,
                                 WrittenParts* written = nullptr,
                                 const std::vector<WrittenPart>& besides = {},
                                 const Tampering& tampering = {});

}  // namespace sprocketry::parts
