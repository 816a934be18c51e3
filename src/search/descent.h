#pragma once

#include "base/stop.h"
#include "search/builder.h"
#include "search/local_search.h"

namespace gp {

/// Tries every small change to what was found, one after the other, as long as one is for the
/// better: runs of scenes a little earlier or later, another day or place in the order, another
/// person for a part or for a crowd. A search that draws its changes leaves many of them untried,
/// and at equal cost it is slow to let a whole day end earlier. (Measured on the demo of 26: 1.5 %
/// less time on site for a quarter more work, where twice the work of the search alone gives
/// 1.3 %.) First improvement, over neighbourhoods in turn (Hansen and Mladenović 2001,
/// doi:10.1016/S0377-2217(00)00100-4, from memory). Cost: at most a quarter of the work the builder
/// has done.
void descend(
    const Problem& problem, Builder& builder, Best& best, Stop& stop, const SearchSink& sink);

}  // namespace gp
