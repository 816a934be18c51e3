#include "text/order.h"

#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

namespace {

std::vector<std::string> sorted(const std::string& language, std::vector<std::string> names) {
  const gp::NameOrder order(language);
  std::sort(names.begin(), names.end(), [&](const std::string& a, const std::string& b) {
    return order.key(a) < order.key(b);
  });
  return names;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_SUITE("text/order") {
  // Orders of the alphabets as CLDR's collation charts have them (UTS #10,
  // unicode.org/charts/collation; the particular pairs from memory).
  TEST_CASE("in Swedish å, ä and ö come after z, in German beside a and o") {
    CHECK(sorted("sv", {"Öberg", "Zander", "Åberg", "Olsson"}) ==
          Names{"Olsson", "Zander", "Åberg", "Öberg"});
    CHECK(sorted("de", {"Öberg", "Zander", "Åberg", "Olsson"}) ==
          Names{"Åberg", "Öberg", "Olsson", "Zander"});
  }

  TEST_CASE("in Polish ł comes after l, in Czech ch after h") {
    CHECK(sorted("pl", {"Łukasz", "Lena", "Lukas", "Maria"}) ==
          Names{"Lena", "Lukas", "Łukasz", "Maria"});
    CHECK(sorted("cs", {"Chalupa", "Hora", "Cerny", "Ivan"}) ==
          Names{"Cerny", "Hora", "Chalupa", "Ivan"});
  }

  TEST_CASE("the second guard comes before the tenth") {
    CHECK(sorted("en", {"Guard 10", "Guard 2"}) == Names{"Guard 2", "Guard 10"});
  }

  TEST_CASE("an accent typed apart sorts as the letter does") {
    const gp::NameOrder order("en");
    CHECK(order.key("Zoe\xCC\x88") == order.key("Zoë"));
    CHECK(order.key("Zoe") != order.key("Zoë"));
  }

  TEST_CASE("a name longer than any buffer sorts whole") {
    const gp::NameOrder order("en");
    const std::string name(1000, 'a');
    CHECK(order.key(name + "a") < order.key(name + "b"));
  }
}
