#pragma once

#include "model/check.h"
#include "model/production.h"

#include <vector>

// Who can help whom with a look.

namespace gp {

/// Everybody who may do a step that needs somebody: of the station's staff (without one: of the
/// people), by answer and skill, in that order. Empty too where the step needs nobody.
std::vector<PersonId> able_helpers(const Production& production, Answers answers, const Step& step);

/// Somebody who alone can do a step.
struct Alone {
  PersonId person;
  const Step* step = nullptr;
};

/// For each step of the look, on or off, that only one person can do. Nobody does their own, so
/// whoever is alone with a step cannot wear the look. Points into the look.
std::vector<Alone> alone_with_steps(const Production& production,
                                    Answers answers,
                                    const Look& look);

}  // namespace gp
