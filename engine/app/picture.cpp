// trammel picture [PHOTO] --out DIR
#include "app/picture.hpp"

#include <CLI/CLI.hpp>

#include "app/print.hpp"
#include "app/verbs.hpp"
#include "io/escape.hpp"
#include "io/files.hpp"
#include "report/picture_page.hpp"

namespace trammel::app {
namespace {

report::Photo photo_of(const std::filesystem::path& file) {
  report::PhotoReading reading;
  try {
    reading =
        report::read_photo(io::escaped(file.filename().string()), io::read_regular(file, report::most_photo_bytes));
  } catch (const io::FileFailure& failure) {
    throw BadInput("photo: " + file.string() + " " + failure.what());
  }
  if (!reading.photo) throw BadInput("photo: " + file.string() + " " + reading.flaw);
  return std::move(*reading.photo);
}

}  // namespace

void add_picture(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand(
      "picture",
      "Write a page on which points are clicked on a side view of a bike; it saves a layout that reads its linkage "
      "off the picture. The page needs a browser and no network.");
  struct Arguments {
    std::optional<std::filesystem::path> photo;
    std::filesystem::path out;
  };
  auto a = std::make_shared<Arguments>();
  verb->add_option("photo", a->photo, "the side view, PNG or JPEG of at most 40 MB; the page can load one, too");
  verb->add_option("--out", a->out, "folder of the page")->required();
  verb->callback([a, &call] {
    guarded(call, [&] {
      std::optional<report::Photo> photo;
      if (a->photo) photo = photo_of(*a->photo);
      make_out_folder(a->out);
      report::write_picture_page(photo, a->out);
      const std::string page = (a->out / "index.html").string();
      if (call.json)
        call.result["page"] = page;
      else
        print_out("page: {}\n", page);
      return static_cast<int>(done);
    });
  });
}

}  // namespace trammel::app
