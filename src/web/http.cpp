#include "web/http.h"

#include "base/utf8.h"

#include <algorithm>
#include <cctype>

namespace gp {
namespace {

constexpr std::size_t kMostFields = 2000;

int hexadecimal(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

}  // namespace

std::string HttpRequest::field(std::string_view name) const {
  for (const auto& [key, value] : form) {
    if (key == name) return value;
  }
  return "";
}

std::vector<std::string> HttpRequest::fields(std::string_view name) const {
  std::vector<std::string> all;
  for (const auto& [key, value] : form) {
    if (key == name) all.push_back(value);
  }
  return all;
}

bool HttpRequest::has_field(std::string_view name) const {
  return std::any_of(
      form.begin(), form.end(), [&](const auto& pair) { return pair.first == name; });
}

HttpAnswer HttpAnswer::page(std::string body, int status) {
  HttpAnswer answer;
  answer.status = status;
  answer.body = std::move(body);
  return answer;
}

HttpAnswer HttpAnswer::go_to(std::string address) {
  HttpAnswer answer;
  answer.status = 303;
  answer.headers.emplace_back("Location", std::move(address));
  return answer;
}

HttpAnswer HttpAnswer::download(std::string type, std::string name, std::string body) {
  HttpAnswer answer;
  answer.type = std::move(type);
  answer.body = std::move(body);
  // RFC 6266: a plain name for old browsers, the true one percent-encoded (RFC 8187)
  std::string plain;
  for (const char c : name) {
    const auto byte = static_cast<unsigned char>(c);
    plain += std::isalnum(byte) != 0 || c == '.' || c == '-' || c == '_' ? c : '_';
  }
  answer.headers.emplace_back(
      "Content-Disposition",
      "attachment; filename=\"" + plain + "\"; filename*=UTF-8''" + percent_encoded(name));
  return answer;
}

HttpAnswer HttpAnswer::json(std::string body) {
  HttpAnswer answer;
  answer.type = "application/json; charset=utf-8";
  answer.body = std::move(body);
  return answer;
}

std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_space) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '%') {
      if (at + 2 >= text.size()) return std::nullopt;
      const int high = hexadecimal(text[at + 1]);
      const int low = hexadecimal(text[at + 2]);
      if (high < 0 || low < 0) return std::nullopt;
      out += static_cast<char>(high * 16 + low);
      at += 2;
    } else {
      out += text[at] == '+' && plus_is_space ? ' ' : text[at];
    }
  }
  return out;
}

std::string percent_encoded(std::string_view text) {
  static constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    // RFC 3986, section 2.3: unreserved characters
    if ((byte < 0x80 && std::isalnum(byte) != 0) || c == '-' || c == '.' || c == '_' || c == '~') {
      out += c;
    } else {
      out += '%';
      out += kDigits[byte >> 4U];
      out += kDigits[byte & 15U];
    }
  }
  return out;
}

std::optional<std::string> cleaned_text(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = decode_utf8(text, at);
    if (point.bytes == 0) return std::nullopt;
    const bool line_end = point.value == '\n' ||
                          (point.value == '\r' && at + 1 < text.size() && text[at + 1] != '\n') ||
                          (point.value == '\r' && at + 1 == text.size());
    const bool control = point.value < 0x20 || (point.value >= 0x7F && point.value <= 0x9F);
    if (line_end) {
      out += '\n';
    } else if (point.value == '\t') {
      out += ' ';
    } else if (!control) {
      out.append(text.substr(at, point.bytes));
    }
    at += point.bytes;
  }
  return out;
}

std::optional<std::vector<std::pair<std::string, std::string>>> read_form(std::string_view body) {
  std::vector<std::pair<std::string, std::string>> fields;
  while (!body.empty()) {
    const std::size_t end = body.find('&');
    const std::string_view pair = body.substr(0, end);
    body = end == std::string_view::npos ? std::string_view() : body.substr(end + 1);
    if (pair.empty()) continue;
    if (fields.size() == kMostFields) return std::nullopt;
    const std::size_t equals = pair.find('=');
    const auto name = percent_decoded(pair.substr(0, equals), true);
    const auto value = percent_decoded(
        equals == std::string_view::npos ? std::string_view() : pair.substr(equals + 1), true);
    if (!name || !value) return std::nullopt;
    auto clean_name = cleaned_text(*name);
    auto clean_value = cleaned_text(*value);
    if (!clean_name || !clean_value) return std::nullopt;
    fields.emplace_back(std::move(*clean_name), std::move(*clean_value));
  }
  return fields;
}

std::map<std::string, std::string> read_cookies(std::string_view header) {
  std::map<std::string, std::string> cookies;
  const auto trimmed = [](std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
  };
  while (!header.empty()) {
    const std::size_t end = header.find(';');
    const std::string_view pair = trimmed(header.substr(0, end));
    header = end == std::string_view::npos ? std::string_view() : header.substr(end + 1);
    const std::size_t equals = pair.find('=');
    if (equals == std::string_view::npos || equals == 0) continue;
    // of two with one name the first counts: the browser sends the one of the longer path first
    cookies.emplace(std::string(trimmed(pair.substr(0, equals))),
                    std::string(trimmed(pair.substr(equals + 1))));
  }
  return cookies;
}

}  // namespace gp
