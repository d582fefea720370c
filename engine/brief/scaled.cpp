#include "brief/scaled.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>

#include "brief/problems.hpp"

namespace trammel::brief {
namespace {

class Sum {
 public:
  Sum(std::string_view text, const Scale& scale) : text_(text), scale_(scale) {}

  NumberReading read() {
    const bool negative = take('-');
    double sum = term();
    if (negative) sum = -sum;
    while (flaw_.empty() && at_ < text_.size()) {
      if (take('+'))
        sum += term();
      else if (take('-'))
        sum -= term();
      else
        fail();
    }
    if (flaw_.empty() && !std::isfinite(sum)) flaw_ = "is not a finite length";
    return flaw_.empty() ? NumberReading{sum, {}} : NumberReading{{}, flaw_};
  }

 private:
  double term() {
    double product = factor();
    while (flaw_.empty()) {
      if (take('*'))
        product *= factor();
      else if (take('/'))
        product /= factor();
      else
        break;
    }
    return product;
  }

  double factor() {
    double value = 1.0;
    const bool number = take_number(value);
    const std::string name = take_word();
    if (name.empty()) {
      if (!number) fail();
      return value;
    }
    for (const ScaleWord& known : scale_words())
      if (known.word == name) return value * (scale_.*known.value);
    if (flaw_.empty())
      flaw_ = "holds the word " + printable(name) + "; the words are " + join(scale_word_list()) +
              suggestion(name, scale_word_list());
    return value;
  }

  /// [0-9]+ ( \. [0-9]* )? | \. [0-9]+
  bool take_number(double& value) {
    std::size_t end = at_;
    const auto digits = [&] {
      const std::size_t start = end;
      while (end < text_.size() && std::isdigit(static_cast<unsigned char>(text_[end])) != 0) ++end;
      return end > start;
    };
    bool any = digits();
    if (end < text_.size() && text_[end] == '.') {
      ++end;
      any = digits() || any;
    }
    if (!any) return false;
    std::from_chars(text_.data() + at_, text_.data() + end, value, std::chars_format::fixed);
    at_ = end;
    skip();
    return true;
  }

  std::string take_word() {
    std::size_t end = at_;
    while (end < text_.size() && (std::isalpha(static_cast<unsigned char>(text_[end])) != 0 || text_[end] == '_'))
      ++end;
    std::string word(text_.substr(at_, end - at_));
    at_ = end;
    skip();
    return word;
  }

  bool take(char c) {
    if (at_ >= text_.size() || text_[at_] != c) return false;
    ++at_;
    skip();
    return true;
  }

  void skip() {
    while (at_ < text_.size() && text_[at_] == ' ') ++at_;
  }

  void fail() {
    if (flaw_.empty()) flaw_ = "is no length; write a sum of multiples such as axle_x + 0.1 wheel";
    at_ = text_.size();
  }

  std::string_view text_;
  const Scale& scale_;
  std::size_t at_ = 0;
  std::string flaw_;
};

}  // namespace

const std::vector<ScaleWord>& scale_words() {
  static const std::vector<ScaleWord> words{
      {"travel", &Scale::travel, "the brief's wheel travel"},
      {"chainstay", &Scale::chainstay, "its chainstay length"},
      {"wheel", &Scale::wheel, "the rear wheel's radius"},
      {"shock", &Scale::shock,
       "the shock's eye-to-eye length; of sizes listed the first, of the usual ones the one whose stroke is nearest to "
       "the "
       "travel over 2.7"},
      {"stroke", &Scale::stroke, "that shock's stroke"},
      {"leverage", &Scale::leverage, "travel over stroke"},
      {"axle_x", &Scale::axle_x, "where the rear axle lies for the bike to stand level on that chainstay"},
      {"axle_y", &Scale::axle_y, "likewise"}};
  return words;
}

std::vector<std::string> scale_word_list() {
  std::vector<std::string> list;
  for (const ScaleWord& word : scale_words()) list.push_back(word.word);
  return list;
}

NumberReading read_scaled(const Node& node, const Scale& scale) {
  if (node.kind != Node::Kind::scalar) return {{}, "is not a length"};
  if (NumberReading number = read_number(node); number.value || !is_text(node)) return number;
  return Sum(node.text, scale).read();
}

std::string scaled_times(const std::string& text, const std::string& factor) {
  std::string out;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = std::min(text.find_first_of("+-", from), text.size());
    std::string term = text.substr(from, end - from);
    const std::size_t last = term.find_last_not_of(' ');
    const auto length = [&](const ScaleWord& word) {
      return word.value != &Scale::leverage && term.find(word.word) != term.npos;
    };
    if (last != term.npos && std::none_of(scale_words().begin(), scale_words().end(), length))
      term.insert(last + 1, " * " + factor);
    out += term;
    if (end < text.size()) out += text[end];
    from = end + 1;
  }
  return out;
}

std::string scaled_pattern() {
  std::string words;
  for (const ScaleWord& word : scale_words()) words += (words.empty() ? "" : "|") + word.word;
  const std::string number = "([0-9]+([.][0-9]*)?|[.][0-9]+)";
  const std::string factor = "(" + number + "( *(" + words + "))?|(" + words + "))";
  const std::string term = factor + "( *[*/] *" + factor + ")*";
  return "^(- *)?" + term + "( *[+-] *" + term + ")* *$";
}

}  // namespace trammel::brief
