#pragma once

#include <string>
#include <string_view>

#include "document/node.hpp"

namespace sprocketry::document {

// Nodes without a place, for documents that the program writes.
Node make_map();
Node make_list();
// A single value; `quoted` where it must read as text whatever it looks like.
Node make_scalar(std::string text, bool quoted = false);
// Appends to a map; the key must be new to it.
void add(Node& map, std::string key, Node value);
void add(Node& map, std::string key, std::string value);

// A tree as a YAML document that compose() reads back as an equal tree (marks aside), with a line
// end. Small maps and lists stand on one line, larger ones by indentation. An empty node is written
// as ~, which compose() gives back as empty.
std::string to_yaml(const Node& root);

// A value on one line, for sentences: "60 V", "{min: 36 V, max: 90 V}", "[12, 13]".
std::string flow_text(const Node& node);

// Whether two trees say the same: kinds, texts, keys in any order; marks and quotes aside.
bool same_tree(const Node& a, const Node& b);

}  // namespace sprocketry::document
