#include "search/loss_reasons.h"

#include "search/reason_words.h"

namespace gp {

void give_reasons(const Problem& problem, Builder& builder, Plan& plan, Stop& stop) {
  for (NotFilmed& row : plan.not_filmed) {
    row.why = builder.cut_short() ? "planning was stopped before this scene was reached"
                                  : reason_for_scene(problem, builder, row.scene);
  }
  for (Unfilled& row : plan.unfilled) {
    row.why = stop.now() ? "planning was stopped before everybody had been asked"
                         : reason_for_heads(problem, builder, row);
  }
}

}  // namespace gp
