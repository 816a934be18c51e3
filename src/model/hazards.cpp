#include "model/hazards.h"

namespace gp {

const std::vector<std::string>& known_hazards() {
  static const std::vector<std::string> known{"fire",
                                              "height",
                                              "vehicle",
                                              "water",
                                              "power",
                                              "replica-weapon",
                                              "animals",
                                              "fog",
                                              "flashing-light",
                                              "lifting",
                                              "heat",
                                              "cold",
                                              "food",
                                              "latex",
                                              "glitter"};
  return known;
}

}  // namespace gp
