// Looks put on, kept on and taken off: the blocks of a person's day.
#include "model/sizes.h"
#include "prep/day_draft.h"

#include <algorithm>
#include <cassert>

namespace gp {
namespace {

void insert_in_order(std::vector<Span>& spans, Span span) {
  const auto at =
      std::upper_bound(spans.begin(), spans.end(), span, [](const Span& a, const Span& b) {
        return a.from < b.from;
      });
  spans.insert(at, span);
}

Minutes last_wait(const std::vector<gp::Step>& chain) {
  return chain.empty() ? Minutes{0} : chain.back().then_wait;
}

}  // namespace

bool DayDraft::try_cast(PersonId who, const Role& role, SceneId scene, Span shot) {
  const Engagement engagement{shot, frame_.scene_place[scene], Doing::cast, scene.index()};
  switch (role.look_kind) {
    case LookKind::any:
      return engage_around_looks(who, engagement, kDayEnd);
    case LookKind::look:
      return cast_in_look(who, role.look, engagement);
    case LookKind::themselves:
      break;
  }
  if (const auto before = block_before(who, shot.from)) {
    if (people_[who].blocks[*before].last_scene_until() > shot.from) return say(Snag::look);
  }
  for (const Block& block : people_[who].blocks) {
    if (block.from() > shot.from && block.from() < shot.until) return say(Snag::look);
  }
  if (!engage_around_looks(who, engagement, shot.from)) return false;
  insert_in_order(touch(who).as_self, shot);
  return true;
}

std::optional<std::size_t> DayDraft::block_before(PersonId who, Minute moment) const {
  std::optional<std::size_t> found;
  const auto& blocks = people_[who].blocks;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    // A block is on from its first shot even while its chain is lifted.
    if (std::min(blocks[i].from(), blocks[i].scenes.front().from) <= moment) found = i;
  }
  return found;
}

Minute DayDraft::look_limit_after(PersonId who, std::size_t block) const {
  const PersonDay& day = people_[who];
  Minute limit = kDayEnd;
  if (block + 1 < day.blocks.size()) limit = std::min(limit, day.blocks[block + 1].from());
  for (const Span& shot : day.as_self) {
    if (shot.from >= day.blocks[block].last_scene_until()) {
      limit = std::min(limit, shot.from);
      break;
    }
  }
  return limit;
}

Minute DayDraft::look_limit_before(PersonId who, std::size_t block) const {
  const PersonDay& day = people_[who];
  Minute limit = frame_.nobody_before;
  if (block > 0) {
    const Block& before = day.blocks[block - 1];
    limit = std::max(limit, before.until() + last_wait(production_.looks[before.look].off));
  }
  for (const Span& shot : day.as_self) {
    if (shot.until <= day.blocks[block].scenes.front().from) limit = std::max(limit, shot.until);
  }
  return limit;
}

/// Engages a person without a change of look: an off chain that was laid after the last scene makes
/// way, and is laid anew round the engagement (by `off_by` at the latest).
bool DayDraft::engage_around_looks(PersonId who, const Engagement& engagement, Minute off_by) {
  const auto before = block_before(who, engagement.when.from);
  if (!before || people_[who].blocks[*before].off.empty()) {
    if (before && people_[who].blocks[*before].until() > off_by) return say(Snag::look);
    return engage(who, engagement);
  }
  lift(who, *before, ChainPart::off);
  if (!engage(who, engagement)) return false;
  return lay_off(who, *before, std::min(off_by, look_limit_after(who, *before))) &&
         hold_items(who, *before);
}

bool DayDraft::cast_in_look(PersonId who, LookId look, const Engagement& shot) {
  const auto before = block_before(who, shot.when.from);
  const std::size_t next = before ? *before + 1 : 0;
  const auto attempt = [&](auto&& change) {
    const Mark start = mark();
    if (change()) return true;
    rollback(start);
    return false;
  };
  if (before && people_[who].blocks[*before].look == look &&
      attempt([&] { return wear_on(who, *before, shot); })) {
    return true;
  }
  if (next < people_[who].blocks.size() && people_[who].blocks[next].look == look &&
      attempt([&] { return wear_earlier(who, next, shot); })) {
    return true;
  }
  return attempt([&] { return wear_anew(who, look, shot); });
}

/// Keeps a look on for one more scene.
bool DayDraft::wear_on(PersonId who, std::size_t at, const Engagement& shot) {
  const Minute limit = look_limit_after(who, at);
  if (shot.when.until > limit) return say(Snag::look);
  {
    const Block& block = people_[who].blocks[at];
    const Look& look = production_.looks[block.look];
    if (!block.on.empty()) {
      const Minute ready = block.on.back().when.until + last_wait(look.steps);
      if (shot.when.from < ready) return say(Snag::look);
      const Minute last = std::max(block.last_scene_until(), shot.when.until);
      if (look.holds_for && last - block.on.back().when.until > *look.holds_for) {
        return say(Snag::holds);
      }
    }
  }
  lift(who, at, ChainPart::off);
  if (!engage(who, shot)) return false;
  insert_in_order(touch(who).blocks[at].scenes, shot.when);
  return lay_off(who, at, limit) && hold_items(who, at);
}

/// Puts a look on earlier than planned, for a scene before those it was planned for.
bool DayDraft::wear_earlier(PersonId who, std::size_t at, const Engagement& shot) {
  const Minute first = people_[who].blocks[at].scenes.front().from;
  if (shot.when.until > first) return say(Snag::look);
  // kept on from this scene to those, it would be on in whatever is played without a look between
  for (const Span& as_self : people_[who].as_self) {
    if (as_self.from >= shot.when.from && as_self.from < first) return say(Snag::look);
  }
  if (at > 0) {
    if (people_[who].blocks[at - 1].last_scene_until() > shot.when.from) return say(Snag::look);
    lift(who, at - 1, ChainPart::off);
  }
  lift(who, at, ChainPart::on);
  if (!engage(who, shot)) return false;
  insert_in_order(touch(who).blocks[at].scenes, shot.when);
  if (at > 0 && !(lay_off(who, at - 1, shot.when.from) && hold_items(who, at - 1))) return false;
  return lay_on(who, at) && hold_items(who, at);
}

/// A new block: whatever was on comes off first.
bool DayDraft::wear_anew(PersonId who, LookId look, const Engagement& shot) {
  const auto before = block_before(who, shot.when.from);
  const std::size_t at = before ? *before + 1 : 0;
  {
    const auto& blocks = people_[who].blocks;
    if (before && blocks[*before].last_scene_until() > shot.when.from) return say(Snag::look);
    if (at < blocks.size() && blocks[at].from() < shot.when.until) return say(Snag::look);
  }
  if (before) lift(who, *before, ChainPart::off);
  if (!engage(who, shot)) return false;
  {
    Block block;
    block.look = look;
    block.scenes.push_back(shot.when);
    auto& blocks = touch(who).blocks;
    blocks.insert(blocks.begin() + static_cast<std::ptrdiff_t>(at), std::move(block));
  }
  if (before && !(lay_off(who, *before, shot.when.from) && hold_items(who, *before))) return false;
  return lay_on(who, at) && lay_off(who, at, look_limit_after(who, at)) && hold_items(who, at);
}

void DayDraft::lift(PersonId who, std::size_t at, ChainPart part) {
  Block& block = touch(who).blocks[at];
  std::vector<PlacedStep> steps;
  steps.swap(part == ChainPart::on ? block.on : block.off);
  for (const PlacedStep& placed : steps) drop_step(who, placed);
}

/// Lays the chain that puts a look on, backwards from its first scene and as late as it can be;
/// where that dead-ends, forwards from as early as it can be.
bool DayDraft::lay_on(PersonId who, std::size_t at) {
  const LookId look = people_[who].blocks[at].look;
  const auto& chain = production_.looks[look].steps;
  if (chain.empty()) return true;
  const Minute floor = look_limit_before(who, at);
  const Minute first = people_[who].blocks[at].scenes.front().from;
  std::vector<PlacedStep> placed(chain.size());

  const auto backwards = [&] {
    Minute limit = first;
    for (std::size_t k = chain.size(); k-- > 0;) {
      const Step step{&chain[k], &staff_.on(look, k)};
      const auto found = find_step(Way::backwards, who, step, floor, limit - chain[k].then_wait);
      if (!found || !take_step(who, *found)) return false;
      placed[k] = *found;
      limit = found->when.from;
    }
    return true;
  };
  Minute ready{};
  const auto forwards = [&] {
    Minute from = floor;
    for (std::size_t k = 0; k < chain.size(); ++k) {
      const Step step{&chain[k], &staff_.on(look, k)};
      const auto found = find_step(Way::forwards, who, step, from, kDayEnd);
      if (!found || !take_step(who, *found)) {
        ready = kNever;
        return false;
      }
      placed[k] = *found;
      from = found->when.until + chain[k].then_wait;
    }
    ready = from;
    return from <= first;
  };

  const Mark start = mark();
  bool laid = backwards();
  if (!laid) {
    rollback(start);
    laid = forwards();
    if (!laid) {
      rollback(start);
      // Those who cannot be ready in time may be, so much later.
      retry_at_ = ready == kNever
                      ? first + Minutes{15}
                      : std::max(first + Minutes{1}, std::min(ready, first + Minutes{30}));
      return say(Snag::chair);
    }
  }
  Block& block = touch(who).blocks[at];
  block.on = std::move(placed);
  const auto& holds = production_.looks[look].holds_for;
  if (holds && block.last_scene_until() - block.on.back().when.until > *holds) {
    return say(Snag::holds);
  }
  return true;
}

/// Lays the chain that takes a look off, as soon after its last scene as it can be.
bool DayDraft::lay_off(PersonId who, std::size_t at, Minute by) {
  const LookId look = people_[who].blocks[at].look;
  const auto& chain = production_.looks[look].off;
  Minute from = people_[who].blocks[at].last_scene_until();
  if (from > by) return say(Snag::look);
  std::vector<PlacedStep> placed;
  for (std::size_t k = 0; k < chain.size(); ++k) {
    const Step step{&chain[k], &staff_.off(look, k)};
    const Minute limit = by == kDayEnd ? by : by - chain[k].then_wait;
    const auto found = find_step(Way::forwards, who, step, from, limit);
    if (!found || !take_step(who, *found)) return say(Snag::chair);
    placed.push_back(*found);
    from = found->when.until + chain[k].then_wait;
  }
  touch(who).blocks[at].off = std::move(placed);
  return true;
}

/// Takes the look's items, or stand-ins, for as long as the block now lasts.
bool DayDraft::hold_items(PersonId who, std::size_t at) {
  Block& block = touch(who).blocks[at];
  let_go(block);
  const Span span{block.from(), block.until()};
  block.items_held = span;
  const Person& wearer = production_.people[who];
  for (ItemId wanted : production_.looks[block.look].items) {
    // Where nothing fits at all the part was given to them all the same: then they have what is
    // left.
    const bool any_size = size_match_or_instead(production_, wanted, wearer) == SizeMatch::does_not;
    const auto can_take = [&](ItemId item) {
      return (any_size || size_match(production_.items[item], wearer) != SizeMatch::does_not) &&
             items_[item].has_room(span, 1);
    };
    ItemId taken;
    if (can_take(wanted)) taken = wanted;
    for (ItemId other : production_.items[wanted].instead) {
      if (!taken.valid() && can_take(other)) taken = other;
    }
    if (!taken.valid()) return say(Snag::item);
    use_item(taken, span, 1);
    block.items.push_back(taken);
  }
  return true;
}

void DayDraft::let_go(Block& block) {
  for (ItemId item : block.items) use_item(item, block.items_held, -1);
  block.items.clear();
}

}  // namespace gp
