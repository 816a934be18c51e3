#include "support/published_instances.h"

#include "model/read_production.h"
#include "support/builder.h"

#include <map>
#include <sstream>
#include <string>

#include <doctest/doctest.h>

// The productions in tests/data/published were written from the same instances by another program
// in another language; what the benchmarks measure must be the same.

TEST_SUITE_BEGIN("model/published_instances");

namespace {

struct Kept {
  std::string stem, kind;
  std::int64_t optimum = 0;
};

std::vector<Kept> kept() {
  std::vector<Kept> rows;
  std::istringstream lines(gp::test::data_text("published/published.tsv"));
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream fields(line);
    Kept row;
    std::string optimum;
    std::getline(fields, row.stem, '\t');
    std::getline(fields, row.kind, '\t');
    std::getline(fields, optimum, '\t');
    row.stem.resize(row.stem.size() - std::string(".json").size());
    row.optimum = std::stoll(optimum);
    rows.push_back(row);
  }
  return rows;
}

std::string mapped(const Kept& row) {
  const auto text = [&](const std::string& name) {
    return gp::test::data_text("published/" + name);
  };
  if (row.kind == "talent")
    return gp::test::talent_production(text("talent/" + row.stem + ".json"));
  if (row.kind == "rcpsp") return gp::test::project_production(text("rcpsp/" + row.stem + ".sm"));
  REQUIRE(row.kind == "jobshop");
  const std::string plain = row.stem.substr(0, row.stem.find('-'));
  const int copies = row.stem.ends_with("-x2") ? 2 : 1;
  const int helpers = row.stem.ends_with("-helpers4") ? 4 : 0;
  return gp::test::job_shop_production(text("jobshop/" + plain + ".txt"), copies, helpers);
}

/// The numbers of a column of a table, by the first column.
std::map<std::string, std::int64_t> column(const std::string& table, std::size_t number) {
  std::map<std::string, std::int64_t> values;
  std::istringstream lines(gp::test::data_text("published/" + table));
  std::string line;
  std::getline(lines, line);  // headings
  while (std::getline(lines, line)) {
    std::istringstream fields(line);
    std::string name;
    std::string field;
    std::getline(fields, name, '\t');
    for (std::size_t i = 0; i < number; ++i) std::getline(fields, field, '\t');
    values[name] = std::stoll(field);
  }
  return values;
}

}  // namespace

TEST_CASE("an instance of the literature becomes the production that was made of it before") {
  int compared = 0;
  for (const Kept& row : kept()) {
    INFO(row.stem);
    gp::Production ours = gp::test::production_of(mapped(row));
    const gp::Production theirs =
        gp::test::production_of(gp::test::data_text("published/" + row.stem + ".json"));
    ours.title = theirs.title;
    CHECK(ours == theirs);
    ++compared;
  }
  CHECK(compared == 29);
}

TEST_CASE("the tables of optima say of each kept production what stands beside it") {
  const auto talent = column("talent/optima.tsv", 4);
  const auto shops = column("jobshop/optima.tsv", 3);
  const auto projects = column("rcpsp/j30_optima.tsv", 1);
  for (const Kept& row : kept()) {
    INFO(row.stem);
    if (row.kind == "talent") CHECK(talent.at(row.stem) == row.optimum);
    if (row.kind == "rcpsp") CHECK(projects.at(row.stem) == row.optimum);
    if (row.kind == "jobshop" && row.stem.find('-') == std::string::npos) {
      CHECK(shops.at(row.stem) == row.optimum);
    }
  }
}

TEST_CASE(
    "three copies of a job shop have three people for every job and three places everywhere") {
  // ft06: 6 jobs, 6 machines (Fisher and Thompson 1963)
  const gp::Production film = gp::test::production_of(
      gp::test::job_shop_production(gp::test::data_text("published/jobshop/ft06.txt"), 3));
  CHECK(film.people.size() == 18);
  CHECK(film.stations.size() == 6);
  for (const gp::Station& station : film.stations) CHECK(station.places == 3);
}

TEST_SUITE_END();
