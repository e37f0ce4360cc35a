#pragma once

namespace sprocketry::model {

// What to buy for a closed chain and where to cut it. An inner link carries two rollers, so a piece
// both of whose ends are inner links has an even number of rollers, one more than it has pitches;
// the connecting link is the pitch that closes it. An odd chain has a half link (a one-pitch offset
// link with one roller) next to the connecting link.
struct ChainOrder {
  int links = 0;             // of the closed chain, pitches
  int rollers = 0;           // to count on what is cut off, both ends inner links
  int connecting_links = 0;  // one for each piece
  int half_links = 0;        // 0 or 1
  int boxes = 0;             // 0: sold by the link
  int offcut = 0;            // links left over
};

// The order for `links` > 0 pitches sold in boxes of `box_links` (0: by the link). More than one
// box means more than one piece.
ChainOrder chain_order(int links, int box_links);

}  // namespace sprocketry::model
