#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace gp {

/// Names in the order in which readers of a language look for them (in Swedish ö comes after z, in
/// German beside o). Source: the Unicode Collation Algorithm, UTS #10, with CLDR's tailorings.
class NameOrder {
 public:
  /// \param language  BCP 47; an unknown one sorts as the root language does
  explicit NameOrder(const std::string& language);
  ~NameOrder();
  NameOrder(const NameOrder&) = delete;
  NameOrder& operator=(const NameOrder&) = delete;

  /// Bytes that compare as the names do; equal only for names that no reader tells apart.
  [[nodiscard]] std::string key(std::string_view utf8) const;

 private:
  struct Rules;
  std::unique_ptr<Rules> rules_;
};

}  // namespace gp
