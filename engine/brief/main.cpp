// Writes what is generated from the field table, and checks files without moving any linkage.
//   trammel_brief_docs schema               prints the JSON Schema       (committed as configs/trammel.schema.json)
//   trammel_brief_docs schema-inch          prints that of files in inch (committed as
//   configs/trammel-inch.schema.json) trammel_brief_docs reference            prints the written reference (committed
//   as docs/brief.md) trammel_brief_docs guidance             prints what is usual         (committed as
//   docs/guidance.md) trammel_brief_docs check FILE...        prints "FILE: ok" or the file's problems; 2 if there are
//   any
#include <iostream>
#include <string_view>

#include "brief/read.hpp"
#include "brief/reference.hpp"

int main(int count, char** arguments) {
  using namespace trammel::brief;
  const std::string_view verb = count > 1 ? arguments[1] : "";
  if (verb == "schema" && count == 2) {
    std::cout << schema();
  } else if (verb == "schema-inch" && count == 2) {
    std::cout << schema(true);
  } else if (verb == "reference" && count == 2) {
    std::cout << reference();
  } else if (verb == "guidance" && count == 2) {
    std::cout << guidance();
  } else if (verb == "check" && count > 2) {
    bool sound = true;
    for (int i = 2; i < count; ++i) {
      const Reading reading = read_file(arguments[i]);
      std::cout << (reading.ok() ? std::string(arguments[i]) + ": ok\n" : reading.message());
      sound = sound && reading.ok();
    }
    return sound ? 0 : 2;
  } else {
    std::cerr << "usage: trammel_brief_docs schema | schema-inch | reference | guidance | check FILE...\n";
    return 2;
  }
  return 0;
}
