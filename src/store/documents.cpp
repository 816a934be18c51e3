#include "store/documents.h"

#include "base/json.h"
#include "base/utf8.h"
#include "model/known_ids.h"

#include <optional>

namespace gp {
namespace {

constexpr std::string_view kSignUps = "sign-up/";

bool is_utf8(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t bytes = decode_utf8(text, at).bytes;
    if (bytes == 0) return false;
    at += bytes;
  }
  return true;
}

std::optional<Fault> fault_in(const Document& value, const std::string& path, int depth) {
  if (depth > kMostJsonDepth) {
    return Fault{0,
                 0,
                 shortened(path, 80),
                 "lists and objects more than " + std::to_string(kMostJsonDepth) + " deep",
                 "a flatter document",
                 {}};
  }
  if (value.is_string() && !is_utf8(value.get_ref<const std::string&>())) {
    return Fault{0, 0, path, "bytes that are no text", "UTF-8", {}};
  }
  if (value.is_object()) {
    for (const auto& [key, inner] : value.items()) {
      if (!is_utf8(key)) return Fault{0, 0, path, "a key that is no text", "UTF-8", {}};
      if (auto fault = fault_in(inner, path_to_key(path, key), depth + 1)) return fault;
    }
  } else if (value.is_array()) {
    std::size_t index = 0;
    for (const Document& inner : value) {
      if (!inner.is_primitive() || inner.is_string()) {
        if (auto fault = fault_in(inner, path_to_item(path, index), depth + 1)) return fault;
      }
      ++index;
    }
  }
  return std::nullopt;
}

}  // namespace

std::string sign_up_document(std::string_view id) {
  return std::string(kSignUps) + std::string(id);
}

std::string_view sign_up_id(std::string_view document) {
  return document.starts_with(kSignUps) ? document.substr(kSignUps.size()) : std::string_view();
}

bool is_document_name(std::string_view document) {
  return document == kProductionDocument || document == kSettingsDocument ||
         is_id(sign_up_id(document));
}

std::variant<std::string, Fault> text_of_document(const Document& document) {
  if (auto fault = fault_in(document, "", 0)) return *fault;
  return document.dump();
}

std::vector<Fault> without_places(std::vector<Fault> faults) {
  for (Fault& fault : faults) {
    fault.line = 0;
    fault.column = 0;
  }
  return faults;
}

std::string text_at(const Document& object, const char* key) {
  if (!object.is_object()) return {};
  const auto found = object.find(key);
  return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
}

Tags words_at(const Document& object, const char* key) {
  Tags words;
  if (!object.is_object()) return words;
  const auto list = object.find(key);
  if (list == object.end() || !list->is_array()) return words;
  for (const Document& word : *list) {
    if (word.is_string()) words.push_back(word.get<std::string>());
  }
  return words;
}

}  // namespace gp
