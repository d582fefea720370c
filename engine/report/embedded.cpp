#include "report/embedded.hpp"

#include <cstddef>

// The assembler copies the file's bytes into the read-only data between two labels. A generated C++ array would do the
// same in minutes instead of milliseconds.
#define TRAMMEL_EMBED(name, file)                                                               \
  __asm__(                                                                                      \
      ".pushsection .rodata\n"                                                                  \
      ".global trammel_embedded_" #name "\n.global trammel_embedded_" #name                     \
      "_end\n"                                                                                  \
      "trammel_embedded_" #name ":\n.incbin \"" TRAMMEL_SOURCE_DIR "/" file                     \
      "\"\n"                                                                                    \
      "trammel_embedded_" #name                                                                 \
      "_end:\n.byte 0\n"                                                                        \
      ".popsection\n");                                                                         \
  extern "C" const char trammel_embedded_##name[];                                              \
  extern "C" const char trammel_embedded_##name##_end[];                                        \
  namespace trammel::report::embedded {                                                         \
  std::string_view name() {                                                                     \
    return {trammel_embedded_##name,                                                            \
            static_cast<std::size_t>(trammel_embedded_##name##_end - trammel_embedded_##name)}; \
  }                                                                                             \
  }

TRAMMEL_EMBED(echarts, "third_party/echarts.min.js")
TRAMMEL_EMBED(echarts_licence, "third_party/LICENSE")
TRAMMEL_EMBED(zrender_licence, "third_party/LICENSE.zrender")
TRAMMEL_EMBED(d3_licence, "third_party/LICENSE.d3")
TRAMMEL_EMBED(echarts_notice, "third_party/NOTICE")
TRAMMEL_EMBED(style, "engine/report/page/sheet.css")
TRAMMEL_EMBED(index_script, "engine/report/page/index.js")
