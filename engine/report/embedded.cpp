#include "report/embedded.hpp"

#include "brief/embed.hpp"

namespace trammel::report::embedded {

TRAMMEL_EMBED(echarts, "third_party/echarts.min.js")
TRAMMEL_EMBED(echarts_licence, "third_party/LICENSE")
TRAMMEL_EMBED(zrender_licence, "third_party/LICENSE.zrender")
TRAMMEL_EMBED(d3_licence, "third_party/LICENSE.d3")
TRAMMEL_EMBED(echarts_notice, "third_party/NOTICE")
TRAMMEL_EMBED(style, "engine/report/page/sheet.css")
TRAMMEL_EMBED(index_script, "engine/report/page/index.js")
TRAMMEL_EMBED(shortlist_script, "engine/report/page/shortlist.js")
TRAMMEL_EMBED(motion_script, "engine/report/page/motion.js")

}  // namespace trammel::report::embedded
