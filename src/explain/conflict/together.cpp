#include "explain/conflict/together.h"

namespace gp::conflict {

void explain_together(const Production& film,
                      const Wishes& wishes,
                      const Plan& plan,
                      const FactGround& ground,
                      Stop& stop,
                      Conflict& conflict) {
  static_cast<void>(film);
  static_cast<void>(wishes);
  static_cast<void>(plan);
  static_cast<void>(ground);
  static_cast<void>(stop);
  static_cast<void>(conflict);
}

}  // namespace gp::conflict
