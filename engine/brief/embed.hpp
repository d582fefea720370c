// Files that the program carries inside itself, so that it stays one file.
//
// The assembler copies the file's bytes into the read-only data between two labels. A generated C++ array would do the
// same in minutes instead of milliseconds.
#pragma once

#include <cstddef>
#include <string_view>

/// Defines std::string_view name(): the bytes of a file, whose path is from the source folder. TRAMMEL_SOURCE_DIR is
/// set, and the file named as a dependency, in CMakeLists.txt.
#define TRAMMEL_EMBED(name, file) TRAMMEL_EMBED_FILE(name, TRAMMEL_SOURCE_DIR "/" file)

/// The same of a file by its whole path.
#define TRAMMEL_EMBED_FILE(name, path)                                                          \
  __asm__(                                                                                      \
      ".pushsection .rodata\n"                                                                  \
      ".global trammel_embedded_" #name "\n.global trammel_embedded_" #name                     \
      "_end\n"                                                                                  \
      "trammel_embedded_" #name ":\n.incbin \"" path                                            \
      "\"\n"                                                                                    \
      "trammel_embedded_" #name                                                                 \
      "_end:\n.byte 0\n"                                                                        \
      ".popsection\n");                                                                         \
  extern "C" const char trammel_embedded_##name[];                                              \
  extern "C" const char trammel_embedded_##name##_end[];                                        \
  std::string_view name() {                                                                     \
    return {trammel_embedded_##name,                                                            \
            static_cast<std::size_t>(trammel_embedded_##name##_end - trammel_embedded_##name)}; \
  }
