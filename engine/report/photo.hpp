// What a picture's file is, by its first bytes.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace trammel::report {

/// A picture as its file says.
struct Photo {
  std::string name;                ///< of its file, fit to be shown
  std::string bytes;               ///< the file
  std::string_view kind;           ///< "image/png" or "image/jpeg"
  unsigned width = 0, height = 0;  ///< pixels as stored; a browser may turn it by a quarter as the camera was held
};

struct PhotoReading {
  std::optional<Photo> photo = {};
  std::string flaw = {};  ///< why it is none; follows the file's name
};

/// Most bytes of a picture's file.
inline constexpr std::size_t most_photo_bytes = std::size_t{40} << 20;

/// Takes a PNG (ISO/IEC 15948) or JPEG (ITU-T T.81) whose size a brief's pixels can reach; nothing is decoded.
PhotoReading read_photo(std::string name, std::string bytes);

}  // namespace trammel::report
