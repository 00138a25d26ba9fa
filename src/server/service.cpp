#include "server/service.hpp"

#include <fmt/format.h>

#include <utility>

#include "host/store/daybook_store.hpp"
#include "server/endpoints.hpp"
#include "server/http_server.hpp"
#include "server/page.hpp"
#include "server/store_thread.hpp"

namespace strikebed::server {

/// In the order in which each needs those before it; the last is taken down first.
struct Service::Parts {
  std::string daybook;
  bool is_new = false;
  std::unique_ptr<HttpServer> http;
  std::unique_ptr<StoreThread> store;
  std::unique_ptr<Endpoints> endpoints;
};

Service::Service(std::unique_ptr<Parts> parts) : parts_(std::move(parts)) {}

/// A job in hand uses the endpoints: the thread ends first.
Service::~Service() { parts_->store.reset(); }

Result<std::unique_ptr<Service>> Service::begin(ServiceRequest request) {
  auto page = Page::read(request.page);
  if (!page.ok()) return page.error();
  auto http = HttpServer::listen(request.port, request.limits);
  if (!http.ok()) return http.error();
  auto store = host::DaybookStore::open(request.daybook, host::Access::create);
  if (!store.ok()) return store.error();
  const auto entries = store->number_of_entries();
  if (!entries.ok()) return entries.error();
  auto parts = std::make_unique<Parts>();
  parts->daybook = store->name();
  parts->is_new = *entries == 0;
  parts->http = std::move(*http);
  parts->store = std::make_unique<StoreThread>(
      std::move(*store), request.limits.look_every,
      [&server = *parts->http](std::size_t number) { server.publish("entries", fmt::format("{}", number)); },
      request.tell);
  Manner manner{.port = parts->http->port(),
                .names = std::move(request.names),
                .version = std::move(request.version),
                .limits = request.limits};
  parts->endpoints =
      std::make_unique<Endpoints>(std::move(*page), *parts->store, std::move(manner), std::move(request.tell));
  return std::unique_ptr<Service>(new Service(std::move(parts)));
}

std::string Service::address() const { return fmt::format("http://127.0.0.1:{}/", parts_->http->port()); }

const std::string& Service::daybook() const { return parts_->daybook; }
bool Service::is_new() const { return parts_->is_new; }

void Service::stop_on_signals() { parts_->http->stop_on_signals(); }

void Service::run() { parts_->http->run(*parts_->endpoints); }

void Service::stop() { parts_->http->stop(); }

}  // namespace strikebed::server
