#include "search/loss_reasons.h"

#include "search/reason_words.h"

namespace gp {

void give_reasons(const Problem& problem, Builder& builder, Plan& plan) {
  for (NotFilmed& row : plan.not_filmed) row.why = reason_for_scene(problem, builder, row.scene);
  for (Unfilled& row : plan.unfilled) row.why = reason_for_heads(problem, builder, row);
}

}  // namespace gp
