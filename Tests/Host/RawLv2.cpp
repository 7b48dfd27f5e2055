#include "Host/RawLv2.h"

#include <lv2/atom/atom.h>
#include <lv2/atom/forge.h>
#include <lv2/atom/util.h>
#include <lv2/buf-size/buf-size.h>
#include <lv2/core/lv2.h>
#include <lv2/options/options.h>
#include <lv2/patch/patch.h>
#include <lv2/state/state.h>
#include <lv2/urid/urid.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <dlfcn.h>
#include <filesystem>
#include <fstream>
#include <mutex>
#include <regex>
#include <stdexcept>

namespace tarry::host
{
namespace
{
class Uris
{
public:
    LV2_URID_Map map{this, &Uris::of};
    [[nodiscard]] std::string name(LV2_URID id)
    {
        const std::scoped_lock guard(lock);
        for (const auto& [uri, number] : all)
            if (number == id) return uri;
        return {};
    }

private:
    static LV2_URID of(LV2_URID_Map_Handle self, const char* uri)
    {
        auto& uris = *static_cast<Uris*>(self);
        const std::scoped_lock guard(uris.lock);
        return uris.all.emplace(uri, static_cast<LV2_URID>(uris.all.size() + 1)).first->second;
    }
    std::mutex lock;
    std::map<std::string, LV2_URID> all;
};

struct Property
{
    std::string bytes;
    LV2_URID type = 0;
};

class Loaded final : public RawLv2
{
public:
    Loaded(std::string folder, const std::string& uri) : bundle(std::move(folder) + "/"), plugin(uri)
    {
        std::string file;
        for (const auto& entry : std::filesystem::directory_iterator(bundle))
            if (entry.path().extension() == ".so") file = entry.path().string();
        library = dlopen(file.c_str(), RTLD_NOW | RTLD_LOCAL);
        if (library == nullptr) throw std::runtime_error(dlerror());
        const auto entry = reinterpret_cast<LV2_Descriptor_Function>(dlsym(library, "lv2_descriptor"));
        for (std::uint32_t i = 0; descriptor == nullptr && entry(i) != nullptr; ++i)
            if (uri == entry(i)->URI) descriptor = entry(i);
        if (descriptor == nullptr) throw std::runtime_error(bundle + ": no " + uri);

        std::ifstream turtle(bundle + "dsp.ttl");
        const std::string text{std::istreambuf_iterator<char>(turtle), {}};
        const std::regex parameter("\nplug:(\\w+)\n\ta lv2:Parameter ;");
        for (auto at = std::sregex_iterator(text.begin(), text.end(), parameter); at != std::sregex_iterator(); ++at)
        {
            const auto id = (*at)[1].str();
            const auto end = text.find(" .\n", static_cast<std::size_t>(at->position()));
            const auto words =
                text.substr(static_cast<std::size_t>(at->position()), end - static_cast<std::size_t>(at->position()));
            const auto number = [&words](const std::string& key)
            {
                std::smatch found;
                return std::regex_search(words, found, std::regex(key + " (-?[0-9.]+)")) ? std::stod(found[1].str())
                                                                                         : 0.0;
            };
            if (id != "Program") parameters.push_back({id, number("minimum"), number("maximum")});
        }
    }
    ~Loaded() override
    {
        stop();
        dlclose(library);
    }
    Loaded(const Loaded&) = delete;
    Loaded& operator=(const Loaded&) = delete;
    Loaded(Loaded&&) = delete;
    Loaded& operator=(Loaded&&) = delete;

    bool start(double sampleRate, int maxFrames, int spotChannels, int roomChannels) override
    {
        if (spotChannels != 2 || roomChannels != 2) return false;
        stop();
        longest = maxFrames;
        const LV2_Options_Option wanted[] = {{LV2_OPTIONS_INSTANCE, 0, urid(LV2_BUF_SIZE__maxBlockLength),
                                              sizeof longest, urid(LV2_ATOM__Int), &longest},
                                             {LV2_OPTIONS_INSTANCE, 0, 0, 0, 0, nullptr}};
        const LV2_Feature map{LV2_URID__map, &uris.map},
            options{LV2_OPTIONS__options, const_cast<LV2_Options_Option*>(wanted)},
            bounded{LV2_BUF_SIZE__boundedBlockLength, nullptr};
        const LV2_Feature* const features[] = {&map, &options, &bounded, nullptr};
        handle = descriptor->instantiate(descriptor, sampleRate, bundle.c_str(), features);
        if (handle == nullptr) return false;
        for (std::uint32_t i = 0; i < outputs.size(); ++i)
        {
            outputs[i].assign(static_cast<std::size_t>(maxFrames), 0.0F);
            connect(4 + i, outputs[i].data());
        }
        connect(6, input.data());
        connect(7, output.data());
        connect(8, &told);
        connect(9, &freeWheeling);
        connect(10, &enabled);
        lv2_atom_forge_init(&forge, &uris.map);
        startInput();
        if (descriptor->activate != nullptr) descriptor->activate(handle);
        return true;
    }
    void stop() override
    {
        if (handle == nullptr) return;
        if (descriptor->deactivate != nullptr) descriptor->deactivate(handle);
        descriptor->cleanup(handle);
        handle = nullptr;
    }
    void process(float* const* spot, const float* const* room, int frames) override
    {
        for (std::uint32_t i = 0; i < 2; ++i)
        {
            connect(i, spot[i]);
            connect(2 + i, const_cast<float*>(room[i]));
        }
        auto* sequence = reinterpret_cast<LV2_Atom_Sequence*>(output.data());
        sequence->atom.size = static_cast<std::uint32_t>(output.size() - sizeof(LV2_Atom));
        sequence->atom.type = 0;
        descriptor->run(handle, static_cast<std::uint32_t>(frames));
        for (std::size_t i = 0; i < 2; ++i) std::copy_n(outputs[i].data(), frames, spot[i]);
        startInput();
    }
    [[nodiscard]] int parameterCount() const override { return static_cast<int>(parameters.size()); }
    [[nodiscard]] int parameterOf(const std::string& id) const override
    {
        for (int i = 0; i < parameterCount(); ++i)
            if (parameters[static_cast<std::size_t>(i)].id == id) return i;
        throw std::out_of_range("no parameter " + id);
    }
    void automate(int parameter, double value) override
    {
        const auto& p = parameters[static_cast<std::size_t>(parameter)];
        LV2_Atom_Forge_Frame begun;
        lv2_atom_forge_frame_time(&forge, 0);
        lv2_atom_forge_object(&forge, &begun, 0, urid(LV2_PATCH__Set));
        lv2_atom_forge_key(&forge, urid(LV2_PATCH__property));
        lv2_atom_forge_urid(&forge, urid((plugin + ":" + p.id).c_str()));
        lv2_atom_forge_key(&forge, urid(LV2_PATCH__value));
        lv2_atom_forge_float(&forge, static_cast<float>(p.least + value * (p.most - p.least)));
        lv2_atom_forge_pop(&forge, &begun);
    }
    [[nodiscard]] std::string state() override
    {
        std::map<std::string, Property> kept;
        struct Target
        {
            Loaded* self;
            std::map<std::string, Property>* kept;
        } target{this, &kept};
        const auto store = [](LV2_State_Handle to, std::uint32_t key, const void* value, std::size_t size,
                              std::uint32_t type, std::uint32_t)
        {
            auto& t = *static_cast<Target*>(to);
            (*t.kept)[t.self->uris.name(key)] = {{static_cast<const char*>(value), size}, type};
            return LV2_STATE_SUCCESS;
        };
        stateInterface().save(handle, store, &target, 0, nullptr);
        return kept.empty() ? std::string() : kept.begin()->second.bytes;
    }
    bool setState(const std::string& blob) override
    {
        struct Source
        {
            Loaded* self;
            const std::string* bytes;
        } source{this, &blob};
        const auto retrieve = [](LV2_State_Handle from, std::uint32_t key, std::size_t* size, std::uint32_t* type,
                                 std::uint32_t* flags) -> const void*
        {
            auto& s = *static_cast<Source*>(from);
            *flags = LV2_STATE_IS_POD;
            if (!s.self->uris.name(key).ends_with("StateString")) return nullptr;
            *size = s.bytes->size();
            *type = s.self->urid(LV2_ATOM__String);
            return s.bytes->data();
        };
        return stateInterface().restore(handle, retrieve, &source, 0, nullptr) == LV2_STATE_SUCCESS;
    }
    /// JUCE's own base64: the size, a point, and six bits a character, the lowest first.
    [[nodiscard]] std::string wrapped(const std::string& own) const override
    {
        constexpr auto letters = ".ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+";
        auto text = std::to_string(own.size()) + ".";
        for (std::size_t bit = 0; bit < 8 * own.size(); bit += 6)
        {
            unsigned six = 0;
            for (std::size_t k = 0; k < 6 && bit + k < 8 * own.size(); ++k)
                six |= ((unsigned{static_cast<unsigned char>(own[(bit + k) / 8])} >> ((bit + k) % 8)) & 1U) << k;
            text += letters[six];
        }
        return text + '\0'; // as LV2 stores a string
    }
    [[nodiscard]] std::map<std::string, double> takeTold() override
    {
        std::map<std::string, double> result;
        const auto* sequence = reinterpret_cast<const LV2_Atom_Sequence*>(output.data());
        LV2_ATOM_SEQUENCE_FOREACH(sequence, event)
        {
            const auto* object = reinterpret_cast<const LV2_Atom_Object*>(&event->body);
            if (object->body.otype != urid(LV2_PATCH__Set)) continue;
            const LV2_Atom *property = nullptr, *value = nullptr;
            lv2_atom_object_get(object, urid(LV2_PATCH__property), &property, urid(LV2_PATCH__value), &value, 0);
            const auto uri = uris.name(reinterpret_cast<const LV2_Atom_URID*>(property)->body);
            result[uri.substr(uri.rfind(':') + 1)] =
                static_cast<double>(reinterpret_cast<const LV2_Atom_Float*>(value)->body);
        }
        return result;
    }
    void setEnabled(bool on) override { enabled = on ? 1.0F : 0.0F; }
    [[nodiscard]] double latency() const override { return static_cast<double>(told); }

private:
    LV2_URID urid(const char* uri) { return uris.map.map(uris.map.handle, uri); }
    void connect(std::uint32_t port, void* data) { descriptor->connect_port(handle, port, data); }
    void startInput()
    {
        lv2_atom_forge_set_buffer(&forge, input.data(), input.size());
        lv2_atom_forge_sequence_head(&forge, &frame, 0);
    }
    const LV2_State_Interface& stateInterface()
    {
        return *static_cast<const LV2_State_Interface*>(descriptor->extension_data(LV2_STATE__interface));
    }

    struct Parameter
    {
        std::string id;
        double least, most;
    };
    std::string bundle, plugin;
    std::vector<Parameter> parameters;
    Uris uris;
    void* library = nullptr;
    const LV2_Descriptor* descriptor = nullptr;
    LV2_Handle handle = nullptr;
    std::array<std::vector<float>, 2> outputs;
    alignas(8) std::array<std::uint8_t, 65536> input{}, output{};
    LV2_Atom_Forge forge{};
    LV2_Atom_Forge_Frame frame{};
    float told = 0.0F, freeWheeling = 0.0F, enabled = 1.0F;
    std::int32_t longest = 0;
};
} // namespace

std::unique_ptr<RawLv2> loadRawLv2(const std::string& bundle, const std::string& uri)
{
    return std::make_unique<Loaded>(bundle, uri);
}
} // namespace tarry::host
