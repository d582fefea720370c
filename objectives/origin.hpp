// Who asks for something.
#pragma once

namespace trammel::objectives {

enum class Origin {
  brief,  ///< the brief itself
  sound,  ///< what holds unless the brief says otherwise: see sound.hpp
};

}  // namespace trammel::objectives
