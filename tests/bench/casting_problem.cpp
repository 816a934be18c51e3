// Writes a made-up casting as numbers, for tests/bench/solver/casting.py.
//
//     casting_problem PEOPLE SCENES PARTS HEADS [friends] > problem.json
#include "bench/casting_bound.h"
#include "bench/made_up_casting.h"
#include "explain/cast/cast_film.h"

#include <cstdio>
#include <string>
#include <vector>

int main(int argc, char** argv) {
  using namespace gp::bench;
  const std::vector<std::string> words(argv + 1, argv + argc);
  if (words.size() != 4 && !(words.size() == 5 && words[4] == "friends")) {
    std::fputs("usage: casting_problem PEOPLE SCENES PARTS HEADS [friends]\n", stderr);
    return 64;
  }
  const CastingSize size{
      std::stoi(words[0]), std::stoi(words[1]), std::stoi(words[2]), std::stoi(words[3])};
  const gp::Production film = made_up_casting(size, 1, words.size() == 5);
  const gp::CastDays days = gp::cast_days(film, {}, std::nullopt);
  const gp::FilmCast cast(film, {}, days);
  std::fputs(casting_numbers(cast.problem()).c_str(), stdout);
  return 0;
}
