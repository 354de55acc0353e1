#include "handover/enclosure.h"

#include "record/digest.h"

#define POINTERHOLDER_TRANSITION 4 // std::shared_ptr in the headers of qpdf, too

#include <fmt/format.h>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFEFStreamObjectHelper.hh>
#include <qpdf/QPDFEmbeddedFileDocumentHelper.hh>
#include <qpdf/QPDFFileSpecObjectHelper.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include <algorithm>
#include <set>

namespace handover {

namespace {

using Object = QPDFObjectHandle;

constexpr std::string_view kind_of_signature = "/ETSI.CAdES.detached";
constexpr std::string_view end_mark = "%%EOF\n";

// Both are written with their full width first and filled in afterwards, so that nothing moves.
constexpr std::string_view empty_range = "/ByteRange [ 0 1111111111 2222222222 3333333333 ]";
constexpr std::string_view empty_time = "00000000000000Z";

struct Damage {
  std::string what;
};

// A PDF's date in UTC, without its "D:".
std::string pdf_date(const std::string& moment) {
  std::string digits;
  for (const char c : moment.substr(0, 19))
    if (c >= '0' && c <= '9') digits.push_back(c);
  return digits + "Z";
}

// --- writing
// ----------------------------------------------------------------------------------------------------------

void attach(QPDF& pdf, const std::vector<Attached>& attached, const std::string& date) {
  QPDFEmbeddedFileDocumentHelper files(pdf);
  Object associated = Object::newArray();
  for (const auto& file : attached) {
    auto stream = QPDFEFStreamObjectHelper::createEFStream(pdf, file.bytes);
    stream.setSubtype(file.media_type).setCreationDate("D:" + date).setModDate("D:" + date);
    auto spec = QPDFFileSpecObjectHelper::createFileSpec(pdf, file.name, stream);
    spec.setDescription(file.description);
    spec.getObjectHandle().replaceKey("/AFRelationship", Object::newName("/" + file.relation));
    files.replaceEmbeddedFile(file.name, spec);
    associated.appendItem(spec.getObjectHandle());
  }
  pdf.getRoot().replaceKey("/AF", associated);
}

void make_room(QPDF& pdf, const SignedBy& by) {
  Object signature = Object::parse("<< /Type /Sig /Filter /Adobe.PPKLite /ByteRange [ 0 1111111111 2222222222 "
                                   "3333333333 ] /Reference [ << /Type /SigRef /TransformMethod /DocMDP "
                                   "/TransformParams << /Type /TransformParams /P 1 /V /1.2 >> >> ] >>");
  signature.replaceKey("/SubFilter", Object::newName(std::string(kind_of_signature)));
  signature.replaceKey("/Contents", Object::newString(std::string(room_for_signature, '\0')));
  signature.replaceKey("/M", Object::newString("D:" + std::string(empty_time)));
  signature.replaceKey("/Name", Object::newUnicodeString(by.name));
  signature.replaceKey("/Reason", Object::newUnicodeString(by.reason));
  signature = pdf.makeIndirectObject(signature);
  Object page = QPDFPageDocumentHelper(pdf).getAllPages().at(0).getObjectHandle();
  Object field = Object::parse("<< /Type /Annot /Subtype /Widget /FT /Sig /T (handover) /F 132 /Rect [ 0 0 0 0 ] >>");
  field.replaceKey("/P", page);
  field.replaceKey("/V", signature);
  field = pdf.makeIndirectObject(field);
  Object on_page = page.getKey("/Annots").isArray() ? page.getKey("/Annots") : Object::newArray();
  on_page.appendItem(field);
  page.replaceKey("/Annots", on_page);
  Object form = Object::parse("<< /SigFlags 3 >>");
  form.replaceKey("/Fields", Object::newArray({field}));
  pdf.getRoot().replaceKey("/AcroForm", form);
  Object permitted = Object::newDictionary();
  permitted.replaceKey("/DocMDP", signature);
  pdf.getRoot().replaceKey("/Perms", permitted);
}

std::string written(QPDF& pdf) {
  QPDFWriter writer(pdf);
  writer.setOutputMemory();
  writer.setObjectStreamMode(qpdf_o_disable);
  writer.setDeterministicID(true);
  writer.setMinimumPDFVersion("1.7");
  writer.write();
  const auto buffer = writer.getBufferSharedPointer();
  return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
}

std::size_t only_place_of(const std::string& pdf, const std::string& text) {
  const auto at = pdf.find(text);
  if (at == std::string::npos || pdf.find(text, at + 1) != std::string::npos)
    throw Damage{"the place of the signature was not found"};
  return at;
}

// Everything but the value of Contents, which lies at [from, to).
std::string around(const std::string& pdf, std::size_t from, std::size_t to) {
  return pdf.substr(0, from) + pdf.substr(to);
}

std::string filled_in(std::string pdf, const SignedBy& by, const std::function<std::string(std::string_view)>& sign) {
  const std::string empty = "<" + std::string(2 * room_for_signature, '0') + ">";
  const std::size_t from = only_place_of(pdf, empty);
  const std::size_t to = from + empty.size();
  std::string range = fmt::format("/ByteRange [ 0 {} {} {}", from, to, pdf.size() - to);
  range.resize(empty_range.size() - 1, ' ');
  pdf.replace(only_place_of(pdf, std::string(empty_range)), empty_range.size(), range + "]");
  pdf.replace(only_place_of(pdf, std::string(empty_time)), empty_time.size(), pdf_date(by.signed_at));
  const std::string der = sign(around(pdf, from, to));
  if (der.size() > room_for_signature) throw Damage{"the signature is longer than its place"};
  const std::string hex = record::hex(der);
  return pdf.replace(from + 1, hex.size(), hex);
}

// --- reading
// ----------------------------------------------------------------------------------------------------------

class Limited : public Pipeline {
public:
  explicit Limited(std::string& out) : Pipeline("attachment", nullptr), out_(out) {}
  void write(const unsigned char* data, std::size_t size) override {
    if (out_.size() + size > largest_attachment) throw Damage{"an attachment in it is larger than any record"};
    out_.append(reinterpret_cast<const char*>(data), size);
  }
  void finish() override {}

private:
  std::string& out_;
};

std::size_t offset_in(const Object& range, int place) {
  const auto item = Object(range).getArrayItem(place);
  if (!Object(item).isInteger()) throw Damage{"the signature does not say what it covers"};
  const auto value = Object(item).getIntValue();
  if (value < 0) throw Damage{"the signature does not say what it covers"};
  return static_cast<std::size_t>(value);
}

void only_these_keys(Object dictionary, const std::set<std::string>& allowed) {
  if (dictionary.getKeys() != allowed) throw Damage{"its signature says more or less than ours do"};
}

// The one signature of the file.
Object signature_in(QPDF& pdf) {
  Object form = pdf.getRoot().getKey("/AcroForm");
  Object fields = form.isDictionary() ? form.getKey("/Fields") : Object::newNull();
  if (!fields.isArray() || fields.getArrayNItems() == 0) throw Damage{"its signature was taken out"};
  int ranges = 0;
  for (auto& object : pdf.getAllObjects())
    if (object.isDictionary() && object.hasKey("/ByteRange")) ++ranges;
  if (fields.getArrayNItems() > 1 || ranges > 1) throw Damage{"it carries more than one signature"};
  Object field = fields.getArrayItem(0);
  Object signature = field.isDictionary() ? field.getKey("/V") : Object::newNull();
  if (!signature.isDictionary() || !signature.isIndirect()) throw Damage{"its signature was taken out"};
  only_these_keys(
      signature, {"/ByteRange", "/Contents", "/Filter", "/M", "/Name", "/Reason", "/Reference", "/SubFilter", "/Type"});
  if (!signature.getKey("/SubFilter").isNameAndEquals(std::string(kind_of_signature)) ||
      !signature.getKey("/Type").isNameAndEquals("/Sig") ||
      !signature.getKey("/Filter").isNameAndEquals("/Adobe.PPKLite"))
    throw Damage{"its signature is of another kind than ours"};
  return signature;
}

// The DER at the front of the hex digits, which must be all there is but zeros.
std::string der_in(std::string_view hex) {
  if (!std::all_of(hex.begin(), hex.end(), [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); }))
    throw Damage{"its signature is not written in the one form that counts"};
  const auto bytes = record::from_hex(hex);
  if (!bytes || bytes->size() < 4 || (*bytes)[0] != 0x30)
    throw Damage{"its signature is not written in the one form that counts"};
  const auto at = [&](std::size_t place) { return static_cast<unsigned char>((*bytes)[place]); };
  std::size_t header = 2;
  std::size_t length = at(1);
  if (length == 0x81) {
    header = 3;
    length = at(2);
  } else if (length == 0x82) {
    header = 4;
    length = at(2) * std::size_t{256} + at(3);
  }
  const std::size_t end = header + length;
  if (end > bytes->size() || bytes->find_first_not_of('\0', end) != std::string::npos)
    throw Damage{"there is something behind its signature, in the place of the signature"};
  return bytes->substr(0, end);
}

void take_signature(QPDF& pdf, const std::string& bytes, Enclosure& out) {
  Object signature = signature_in(pdf);
  Object range = signature.getKey("/ByteRange");
  if (!range.isArray() || range.getArrayNItems() != 4 || offset_in(range, 0) != 0)
    throw Damage{"the signature does not say what it covers"};
  const std::size_t from = offset_in(range, 1);
  const std::size_t to = offset_in(range, 2);
  const std::size_t rest = offset_in(range, 3);
  if (from == 0 || to <= from + 1 || to > bytes.size() || bytes[from] != '<' || bytes[to - 1] != '>')
    throw Damage{"the signature is not where it says: the file was saved again by another program, or changed"};
  if (rest < bytes.size() - to) throw Damage{"something was added after it was signed"};
  if (rest > bytes.size() - to) throw Damage{"its end is missing"};
  const std::string_view hex(bytes.data() + from + 1, to - from - 2);
  // What a reader takes for the signature must be what was left out of it.
  if (!signature.getKey("/Contents").isString() || record::hex(signature.getKey("/Contents").getStringValue()) != hex)
    throw Damage{"the signature is not where it says: the file was saved again by another program, or changed"};
  out.signature = der_in(hex);
  out.content = around(bytes, from, to);
  const std::string claimed = signature.getKey("/M").isString() ? signature.getKey("/M").getStringValue() : "";
  if (claimed.size() == 17)
    out.signed_at =
        fmt::format("{}-{}-{} {}:{}:{} UTC", claimed.substr(2, 4), claimed.substr(6, 2), claimed.substr(8, 2),
                    claimed.substr(10, 2), claimed.substr(12, 2), claimed.substr(14, 2));
}

void take_attachments(QPDF& pdf, Enclosure& out) {
  QPDFEmbeddedFileDocumentHelper files(pdf);
  for (auto& [name, spec] : files.getEmbeddedFiles()) {
    Attached file;
    file.name = spec->getFilename();
    if (file.name != name) throw Damage{"an attachment in it goes by two names"};
    Object stream = spec->getEmbeddedFileStream();
    if (!stream.isStream()) throw Damage{fmt::format("its attachment {} is empty", name)};
    Limited sink(file.bytes);
    if (!stream.pipeStreamData(&sink, 0, qpdf_dl_generalized, true)) throw Damage{"an attachment in it is damaged"};
    out.attached.push_back(std::move(file));
  }
}

} // namespace

Result<std::string> enclosed(const std::string& pages, const std::vector<Attached>& attached, const SignedBy& by,
                             const std::function<std::string(std::string_view)>& sign) {
  try {
    QPDF pdf;
    pdf.processMemoryFile("pages", pages.data(), pages.size());
    attach(pdf, attached, pdf_date(by.written_at));
    make_room(pdf, by);
    return filled_in(written(pdf), by, sign);
  } catch (const Damage& damage) {
    return Error{"not-written", fmt::format("The handover could not be put together: {}.", damage.what)};
  } catch (const std::exception& failure) {
    return Error{"not-written", fmt::format("The handover could not be put together: {}.", failure.what())};
  }
}

Result<Enclosure> taken_apart(const std::string& pdf) {
  if (pdf.compare(0, 5, "%PDF-") != 0) return Error{"foreign", "it is no PDF"};
  if (pdf.find("/ByteRange") == std::string::npos)
    return Error{"foreign", "it is a PDF without a signature: a draft has none, and is no record"};
  const auto end = pdf.rfind(end_mark);
  if (end == std::string::npos) return Error{"not-intact", "its end is missing"};
  Enclosure out;
  try {
    QPDF read;
    read.setSuppressWarnings(true);
    read.setAttemptRecovery(false);
    read.processMemoryFile("file", pdf.data(), pdf.size());
    if (read.isEncrypted()) throw Damage{"it was enciphered after it was signed"};
    take_signature(read, pdf, out);
    take_attachments(read, out);
  } catch (const Damage& damage) {
    return Error{"not-intact", damage.what};
  } catch (const std::exception&) {
    return Error{"not-intact", end + end_mark.size() == pdf.size()
                                   ? "it was changed or damaged: its parts are not where its index says"
                                   : "something was added behind its end, or its end is damaged"};
  }
  return out;
}

} // namespace handover
