#define INIT_CLASS_IID // the interfaces' ids are defined here
#include <pluginterfaces/base/funknown.h>
#include <pluginterfaces/base/ibstream.h>
#include <pluginterfaces/base/ipluginbase.h>
#include <pluginterfaces/vst/ivstaudioprocessor.h>
#include <pluginterfaces/vst/ivstcomponent.h>
#include <pluginterfaces/vst/ivsteditcontroller.h>
#include <pluginterfaces/vst/ivsthostapplication.h>
#include <pluginterfaces/vst/ivstparameterchanges.h>
#undef INIT_CLASS_IID

#include "Host/RawVst3.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <dlfcn.h>
#include <filesystem>
#include <stdexcept>

// The format's interfaces have none: they are never deleted through.
#pragma GCC diagnostic ignored "-Wnon-virtual-dtor"

namespace tarry::host
{
namespace
{
using namespace Steinberg;
using namespace Steinberg::Vst;

/// Everything of the host's is owned by C++, so counting references does nothing.
template <typename Interface>
class Unowned : public Interface
{
public:
    tresult PLUGIN_API queryInterface(const TUID wanted, void** result) override
    {
        const bool known =
            FUnknownPrivate::iidEqual(wanted, Interface::iid) || FUnknownPrivate::iidEqual(wanted, FUnknown::iid);
        *result = known ? this : nullptr;
        return known ? kResultOk : kNoInterface;
    }
    uint32 PLUGIN_API addRef() override { return 1; }
    uint32 PLUGIN_API release() override { return 1; }
};

class Application final : public Unowned<IHostApplication>
{
public:
    tresult PLUGIN_API getName(String128 name) override
    {
        std::fill_n(name, 128, char16{});
        std::copy_n(u"raw", 3, name);
        return kResultOk;
    }
    tresult PLUGIN_API createInstance(TUID, TUID, void** result) override
    {
        *result = nullptr;
        return kNotImplemented;
    }
};

class Memory final : public Unowned<IBStream>
{
public:
    std::string bytes;
    tresult PLUGIN_API read(void* to, int32 count, int32* done) override
    {
        const auto n = std::min<std::size_t>(static_cast<std::size_t>(std::max(0, count)), bytes.size() - at);
        std::memcpy(to, bytes.data() + at, n);
        at += n;
        if (done != nullptr) *done = static_cast<int32>(n);
        return kResultOk;
    }
    tresult PLUGIN_API write(void* from, int32 count, int32* done) override
    {
        bytes.replace(at, static_cast<std::size_t>(count), static_cast<const char*>(from),
                      static_cast<std::size_t>(count));
        at += static_cast<std::size_t>(count);
        if (done != nullptr) *done = count;
        return kResultOk;
    }
    tresult PLUGIN_API seek(int64 where, int32 mode, int64* result) override
    {
        const auto base = mode == kIBSeekSet ? 0 : static_cast<int64>(mode == kIBSeekCur ? at : bytes.size());
        at = static_cast<std::size_t>(std::clamp<int64>(base + where, 0, static_cast<int64>(bytes.size())));
        if (result != nullptr) *result = static_cast<int64>(at);
        return kResultOk;
    }
    tresult PLUGIN_API tell(int64* result) override
    {
        *result = static_cast<int64>(at);
        return kResultOk;
    }

private:
    std::size_t at = 0;
};

class OneValue final : public Unowned<IParamValueQueue>
{
public:
    ParamID id = 0;
    ParamValue value = 0.0;
    ParamID PLUGIN_API getParameterId() override { return id; }
    int32 PLUGIN_API getPointCount() override { return 1; }
    tresult PLUGIN_API getPoint(int32, int32& offset, ParamValue& v) override
    {
        offset = 0;
        v = value;
        return kResultOk;
    }
    tresult PLUGIN_API addPoint(int32, ParamValue, int32&) override { return kResultFalse; }
};

class Changes final : public Unowned<IParameterChanges>
{
public:
    std::array<OneValue, 4> values;
    int32 count = 0;
    int32 PLUGIN_API getParameterCount() override { return count; }
    IParamValueQueue* PLUGIN_API getParameterData(int32 index) override
    {
        return &values[static_cast<std::size_t>(index)];
    }
    IParamValueQueue* PLUGIN_API addParameterData(const ParamID&, int32&) override { return nullptr; }
};

struct Module
{
    void* library = nullptr;
    IPluginFactory* factory = nullptr;

    explicit Module(const std::string& bundle)
    {
        const auto file = std::filesystem::path(bundle) / "Contents/x86_64-linux" /
                          (std::filesystem::path(bundle).stem().string() + ".so");
        library = dlopen(file.c_str(), RTLD_NOW | RTLD_LOCAL);
        if (library == nullptr) throw std::runtime_error(dlerror());
        reinterpret_cast<bool (*)(void*)>(dlsym(library, "ModuleEntry"))(library);
        factory = reinterpret_cast<IPluginFactory* (*)()>(dlsym(library, "GetPluginFactory"))();
    }
    ~Module()
    {
        factory->release();
        reinterpret_cast<bool (*)()>(dlsym(library, "ModuleExit"))();
        dlclose(library);
    }
    Module(const Module&) = delete;
    Module& operator=(const Module&) = delete;
    Module(Module&&) = delete;
    Module& operator=(Module&&) = delete;
};

SpeakerArrangement arrangement(int channels)
{
    constexpr std::array all{SpeakerArr::kEmpty,  SpeakerArr::kMono,    SpeakerArr::kStereo,
                             SpeakerArr::k30Cine, SpeakerArr::k40Music, SpeakerArr::k50,
                             SpeakerArr::k51,     SpeakerArr::k70Music, SpeakerArr::k71Music};
    return all.at(static_cast<std::size_t>(channels));
}

class RawVst3 final : public RawPlugin
{
public:
    explicit RawVst3(const std::string& bundle) : module(bundle)
    {
        for (int32 i = 0; i < module.factory->countClasses(); ++i)
        {
            PClassInfo info{};
            module.factory->getClassInfo(i, &info);
            const bool isComponent = std::string(info.category) == kVstAudioEffectClass;
            if (isComponent)
                module.factory->createInstance(info.cid, IComponent::iid, reinterpret_cast<void**>(&component));
        }
        if (component == nullptr || component->initialize(&application) != kResultOk)
            throw std::runtime_error(bundle + ": no component");
        component->queryInterface(IAudioProcessor::iid, reinterpret_cast<void**>(&processor));
        TUID id{};
        component->getControllerClassId(id);
        module.factory->createInstance(id, IEditController::iid, reinterpret_cast<void**>(&controller));
        if (processor == nullptr || controller == nullptr || controller->initialize(&application) != kResultOk)
            throw std::runtime_error(bundle + ": no processor or no controller");
        // The two halves find each other, as hosts have it.
        IConnectionPoint *one = nullptr, *other = nullptr;
        component->queryInterface(IConnectionPoint::iid, reinterpret_cast<void**>(&one));
        controller->queryInterface(IConnectionPoint::iid, reinterpret_cast<void**>(&other));
        if (one != nullptr && other != nullptr)
        {
            one->connect(other);
            other->connect(one);
        }
        if (one != nullptr) one->release();
        if (other != nullptr) other->release();
    }
    ~RawVst3() override
    {
        stop();
        controller->terminate();
        controller->release();
        processor->release();
        component->terminate();
        component->release();
    }
    RawVst3(const RawVst3&) = delete;
    RawVst3& operator=(const RawVst3&) = delete;
    RawVst3(RawVst3&&) = delete;
    RawVst3& operator=(RawVst3&&) = delete;

    bool start(double sampleRate, int maxFrames, int spotChannels, int roomChannels) override
    {
        stop();
        SpeakerArrangement inputs[2] = {arrangement(spotChannels), arrangement(roomChannels)};
        SpeakerArrangement output = inputs[0];
        if (processor->setBusArrangements(inputs, 2, &output, 1) != kResultTrue) return false;
        ProcessSetup setup{kRealtime, kSample32, maxFrames, sampleRate};
        processor->setupProcessing(setup);
        component->activateBus(kAudio, kInput, 0, 1);
        component->activateBus(kAudio, kInput, 1, roomChannels > 0 ? 1 : 0);
        component->activateBus(kAudio, kOutput, 0, 1);
        spots = spotChannels;
        rooms = roomChannels;
        component->setActive(1);
        processor->setProcessing(1);
        active = true;
        return true;
    }
    void stop() override
    {
        if (!active) return;
        processor->setProcessing(0);
        component->setActive(0);
        active = false;
    }
    void process(float* const* spot, const float* const* room, int frames) override
    {
        AudioBusBuffers inputs[2], output;
        inputs[0].numChannels = output.numChannels = spots;
        inputs[0].channelBuffers32 = output.channelBuffers32 = const_cast<float**>(spot);
        inputs[1].numChannels = rooms;
        inputs[1].channelBuffers32 = const_cast<float**>(room);
        ProcessData data;
        data.processMode = kRealtime;
        data.symbolicSampleSize = kSample32;
        data.numSamples = frames;
        data.numInputs = 2;
        data.numOutputs = 1;
        data.inputs = inputs;
        data.outputs = &output;
        data.inputParameterChanges = &changes;
        processor->process(data);
        changes.count = 0;
    }
    [[nodiscard]] int parameterCount() const override { return controller->getParameterCount(); }
    [[nodiscard]] int parameterOf(const std::string& id) const override
    {
        std::uint32_t hash = 0; // as JUCE makes the format's numbers of our ids
        for (const char c : id) hash = 31 * hash + static_cast<unsigned char>(c);
        for (int i = 0; i < parameterCount(); ++i)
        {
            ParameterInfo info{};
            controller->getParameterInfo(i, info);
            if (info.id == (hash & 0x7fffffffU)) return i;
        }
        throw std::out_of_range("no parameter " + id);
    }
    void automate(int parameter, double value) override
    {
        if (static_cast<std::size_t>(changes.count) == changes.values.size()) return;
        ParameterInfo info{};
        controller->getParameterInfo(parameter, info);
        auto& next = changes.values[static_cast<std::size_t>(changes.count++)];
        next.id = info.id;
        next.value = value;
    }
    [[nodiscard]] std::string state() override
    {
        Memory memory;
        component->getState(&memory);
        return memory.bytes;
    }
    bool setState(const std::string& blob) override
    {
        Memory memory;
        memory.bytes = blob;
        return component->setState(&memory) == kResultOk;
    }
    [[nodiscard]] std::string wrapped(const std::string& own) const override { return own; }
    [[nodiscard]] std::vector<bool> programsAreLists() const
    {
        std::vector<bool> lists;
        for (int i = 0; i < parameterCount(); ++i)
        {
            ParameterInfo info{};
            controller->getParameterInfo(i, info);
            if ((info.flags & ParameterInfo::kIsProgramChange) != 0)
                lists.push_back((info.flags & ParameterInfo::kIsList) != 0);
        }
        return lists;
    }

private:
    Module module;
    Application application;
    IComponent* component = nullptr;
    IAudioProcessor* processor = nullptr;
    IEditController* controller = nullptr;
    Changes changes;
    int spots = 0, rooms = 0;
    bool active = false;
};
} // namespace

std::unique_ptr<RawPlugin> loadRawVst3(const std::string& bundle)
{
    return std::make_unique<RawVst3>(bundle);
}

std::vector<bool> vst3ProgramsAreLists(const std::string& bundle)
{
    return RawVst3(bundle).programsAreLists();
}

std::vector<FactoryClass> vst3Classes(const std::string& bundle)
{
    const Module module(bundle);
    IPluginFactory2* factory = nullptr;
    module.factory->queryInterface(IPluginFactory2::iid, reinterpret_cast<void**>(&factory));
    std::vector<FactoryClass> classes;
    for (int32 i = 0; factory != nullptr && i < factory->countClasses(); ++i)
    {
        PClassInfo2 info;
        factory->getClassInfo2(i, &info);
        std::string cid;
        for (const char byte : info.cid)
        {
            constexpr auto digits = "0123456789ABCDEF";
            cid += digits[(byte >> 4) & 15];
            cid += digits[byte & 15];
        }
        classes.push_back(
            {cid, info.category, info.name, info.vendor, info.version, info.sdkVersion, info.subCategories});
    }
    if (factory != nullptr) factory->release();
    return classes;
}
} // namespace tarry::host
