// The verb that writes the page on which points are read off a picture.
#pragma once

#include "app/call.hpp"

namespace CLI {
class App;
}

namespace trammel::app {

/// Registers it, as verbs.hpp says of the others.
void add_picture(CLI::App& program, Call& call);

}  // namespace trammel::app
