#pragma once

#include "search/search.hpp"
#include "search/worker.hpp"

namespace sprocketry::search {

// The exact front of a large space by branch and bound.
//
// Motors and packs are taken in ascending order of the least price that any combination of them
// has. Of each, the blocks of reductions are bounded with all controllers at once (see BestCase),
// then with each controller, then the block's halves, down to single drives with their own price.
// A part is left out when
// - a rule that its best case breaks is broken by all of it: counted under the first such rule, or
// - a member of the front dominates its best case, and so all of it: counted as pruned.
// Members that equal a best case do not dominate it, so ties are never lost.
//
// The order is that of a coarse look first: what a member would dominate were it worse by a tenth
// is put off, and taken up again with 3 %, 1 % and so on down to nothing. So members from all over
// the front are known before anything near it is looked at closely. Nothing is left out for it:
// what was put off waits with its best case until a rule above settles it or it is opened.
//
// With a front to be near to the same is done with best cases improved by the share: what a member
// of the front dominates then, it dominates in all that the best case stands for, improved alike.
//
// Work is done in rounds of fixed pieces. A piece sees the front as it stood when its round began,
// and its own finds; after the round the pieces' fronts are merged in order. So neither the front
// nor any count depends on threads or timing.
Findings search_bounded(const Setup& setup, const Space& space, const Compatible& compatible,
                        const SearchOptions& options, const Keep& keep);

}  // namespace sprocketry::search
