#pragma once

#include <cassert>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace gp {

/// An index into one kind of table that cannot be mistaken for an index into another.
/// Default: none.
template <class Tag>
class Id {
 public:
  constexpr Id() = default;
  constexpr explicit Id(std::size_t index) : index_(static_cast<std::int32_t>(index)) {}

  [[nodiscard]] constexpr bool valid() const { return index_ >= 0; }
  [[nodiscard]] constexpr std::size_t index() const {
    assert(valid());
    return static_cast<std::size_t>(index_);
  }
  constexpr auto operator<=>(const Id&) const = default;

 private:
  std::int32_t index_ = -1;
};

using DayId = Id<struct DayTag>;
using PlaceId = Id<struct PlaceTag>;
using PersonId = Id<struct PersonTag>;
using RoleId = Id<struct RoleTag>;
using LookId = Id<struct LookTag>;
using StationId = Id<struct StationTag>;
using ItemId = Id<struct ItemTag>;
using UnitId = Id<struct UnitTag>;
using SceneId = Id<struct SceneTag>;

/// The ids 0 .. size-1, for range-for.
template <class IdType>
class IdRange {
 public:
  class Iterator {
   public:
    explicit constexpr Iterator(std::size_t at) : at_(at) {}
    constexpr IdType operator*() const { return IdType(at_); }
    constexpr Iterator& operator++() {
      ++at_;
      return *this;
    }
    constexpr bool operator==(const Iterator&) const = default;

   private:
    std::size_t at_;
  };
  explicit constexpr IdRange(std::size_t size) : size_(size) {}
  [[nodiscard]] constexpr Iterator begin() const { return Iterator(0); }
  [[nodiscard]] constexpr Iterator end() const { return Iterator(size_); }

 private:
  std::size_t size_;
};

/// A vector that is indexed by its own kind of id only.
template <class IdType, class T>
class Table {
 public:
  Table() = default;
  explicit Table(std::size_t size, const T& value = T()) : rows_(size, value) {}

  IdType add(T row) {
    rows_.push_back(std::move(row));
    return IdType(rows_.size() - 1);
  }
  [[nodiscard]] T& operator[](IdType id) {
    assert(id.index() < rows_.size());
    return rows_[id.index()];
  }
  [[nodiscard]] const T& operator[](IdType id) const {
    assert(id.index() < rows_.size());
    return rows_[id.index()];
  }
  [[nodiscard]] std::size_t size() const { return rows_.size(); }
  [[nodiscard]] bool empty() const { return rows_.empty(); }
  [[nodiscard]] IdRange<IdType> ids() const { return IdRange<IdType>(rows_.size()); }
  [[nodiscard]] auto begin() { return rows_.begin(); }
  [[nodiscard]] auto end() { return rows_.end(); }
  [[nodiscard]] auto begin() const { return rows_.begin(); }
  [[nodiscard]] auto end() const { return rows_.end(); }
  bool operator==(const Table&) const = default;

 private:
  std::vector<T> rows_;
};

}  // namespace gp
