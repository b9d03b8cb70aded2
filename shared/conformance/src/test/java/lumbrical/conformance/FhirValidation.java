package lumbrical.conformance;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.DefaultProfileValidationSupport;
import ca.uhn.fhir.context.support.IValidationSupport;
import ca.uhn.fhir.validation.FhirValidator;
import ca.uhn.fhir.validation.ResultSeverityEnum;
import ca.uhn.fhir.validation.SingleValidationMessage;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.hl7.fhir.common.hapi.validation.support.CommonCodeSystemsTerminologyService;
import org.hl7.fhir.common.hapi.validation.support.InMemoryTerminologyServerValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.SnapshotGeneratingValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.ValidationSupportChain;
import org.hl7.fhir.common.hapi.validation.validator.FhirInstanceValidator;
import org.hl7.fhir.instance.model.api.IBaseResource;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.CodeSystem;
import org.hl7.fhir.r4.model.ElementDefinition;
import org.hl7.fhir.r4.model.Enumerations;
import org.hl7.fhir.r4.model.MetadataResource;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.StructureDefinition;
import org.hl7.fhir.r4.model.UriType;
import org.hl7.fhir.r4.model.ValueSet;

/** The validator of HL7 FHIR R4, offline, knowing our definitions. One for all tests, since the first use takes seconds. */
final class FhirValidation {
    static final FhirContext R4 = FhirContext.forR4();

    private final FhirValidator validator;

    FhirValidation(Bundle definitions) {
        Ours ours = new Ours(definitions);
        ValidationSupportChain chain = new ValidationSupportChain(
                ours,
                new DefaultProfileValidationSupport(R4),
                new CommonCodeSystemsTerminologyService(R4),
                new InMemoryTerminologyServerValidationSupport(R4),
                new SnapshotGeneratingValidationSupport(R4));
        validator = R4.newValidator();
        FhirInstanceValidator module = new FhirInstanceValidator(chain);
        module.setAnyExtensionsAllowed(false);
        validator.registerValidatorModule(module);
    }

    /** Our Questionnaires, code systems, value sets and extensions, found by their canonical names with or without version. */
    private static final class Ours implements IValidationSupport {
        private final Map<String, Resource> byUrl = new HashMap<>();

        Ours(Bundle definitions) {
            StructureDefinition base = (StructureDefinition) new DefaultProfileValidationSupport(R4)
                    .fetchStructureDefinition("http://hl7.org/fhir/StructureDefinition/Extension");
            StructureDefinition calculated = calculatedExpression();
            snapshot(calculated, base);
            byUrl.put(calculated.getUrl(), calculated);
            for (Bundle.BundleEntryComponent entry : definitions.getEntry()) {
                if (entry.getResource() instanceof StructureDefinition extension) {
                    snapshot(extension, base);
                }
                byUrl.put(((MetadataResource) entry.getResource()).getUrl(), entry.getResource());
            }
        }

        /** The extension of HL7's Structured Data Capture, whose package is not at hand offline: an Expression on an item. */
        private static StructureDefinition calculatedExpression() {
            StructureDefinition extension = new StructureDefinition();
            extension.setUrl("http://hl7.org/fhir/uv/sdc/StructureDefinition/sdc-questionnaire-calculatedExpression");
            extension
                    .setName("CalculatedExpression")
                    .setStatus(Enumerations.PublicationStatus.ACTIVE)
                    .setKind(StructureDefinition.StructureDefinitionKind.COMPLEXTYPE)
                    .setAbstract(false)
                    .setType("Extension")
                    .setBaseDefinition("http://hl7.org/fhir/StructureDefinition/Extension")
                    .setDerivation(StructureDefinition.TypeDerivationRule.CONSTRAINT);
            extension
                    .addContext()
                    .setType(StructureDefinition.ExtensionContextType.ELEMENT)
                    .setExpression("Questionnaire.item");
            add(extension, "Extension.extension").setMax("0");
            add(extension, "Extension.url").setFixed(new UriType(extension.getUrl()));
            add(extension, "Extension.value[x]").setMin(1).addType().setCode("Expression");
            return extension;
        }

        private static ElementDefinition add(StructureDefinition to, String path) {
            ElementDefinition element = to.getDifferential().addElement();
            element.setId(path);
            element.setPath(path);
            return element;
        }

        /** The snapshot of an extension, which the validator needs and cannot make offline: the base with our differential laid over. */
        private static void snapshot(StructureDefinition extension, StructureDefinition base) {
            Map<String, ElementDefinition> ours = new LinkedHashMap<>();
            extension.getDifferential().getElement().forEach(e -> ours.put(e.getId(), e));
            for (ElementDefinition standard : base.getSnapshot().getElement()) {
                ElementDefinition element = standard.copy();
                ElementDefinition own = ours.remove(standard.getId());
                if (own != null) {
                    lay(own, element);
                }
                extension.getSnapshot().addElement(element);
                if (element.getId().equals("Extension.extension")) {
                    ours.values().stream()
                            .filter(e -> e.getId().contains(":"))
                            .forEach(e -> extension.getSnapshot().addElement(slice(e, base)));
                }
            }
        }

        private static ElementDefinition slice(ElementDefinition own, StructureDefinition base) {
            String path = own.getPath().replace("Extension.extension.", "Extension.");
            ElementDefinition element = base.getSnapshot().getElement().stream()
                    .filter(e -> e.getPath().equals(path))
                    .findFirst()
                    .orElseThrow()
                    .copy();
            element.setId(own.getId());
            element.setPath(own.getPath());
            element.setSlicing(null);
            element.setSliceName(own.getSliceName());
            lay(own, element);
            return element;
        }

        private static void lay(ElementDefinition own, ElementDefinition over) {
            if (own.hasMin()) {
                over.setMin(own.getMin());
            }
            if (own.hasMax()) {
                over.setMax(own.getMax());
            }
            if (own.hasFixed()) {
                over.setFixed(own.getFixed());
            }
            if (own.hasType()) {
                over.setType(own.getType());
            }
            if (own.hasSlicing()) {
                over.setSlicing(own.getSlicing());
            }
        }

        private Resource find(String url) {
            int version = url.indexOf('|');
            return byUrl.get(version < 0 ? url : url.substring(0, version));
        }

        @Override
        public <T extends IBaseResource> T fetchResource(Class<T> type, String url) {
            Resource found = find(url);
            return type.isInstance(found) ? type.cast(found) : null;
        }

        @Override
        public IBaseResource fetchCodeSystem(String url) {
            return find(url) instanceof CodeSystem system ? system : null;
        }

        @Override
        public IBaseResource fetchValueSet(String url) {
            return find(url) instanceof ValueSet set ? set : null;
        }

        @Override
        public IBaseResource fetchStructureDefinition(String url) {
            return find(url) instanceof StructureDefinition structure ? structure : null;
        }

        @Override
        public List<IBaseResource> fetchAllConformanceResources() {
            return List.copyOf(byUrl.values());
        }

        @Override
        public boolean isCodeSystemSupported(
                ca.uhn.fhir.context.support.ValidationSupportContext context, String system) {
            return find(system) instanceof CodeSystem;
        }

        @Override
        public FhirContext getFhirContext() {
            return R4;
        }
    }

    /**
     * What the validator says of a resource.
     *
     * @param errors what is wrong, a sentence each
     * @param remarks how often each kind of warning or information is told; a kind is the validator's own id of the message, and of
     *     those about codes also the element
     */
    record Findings(List<String> errors, Map<String, Integer> remarks) {}

    Findings findings(String json) {
        List<String> errors = new ArrayList<>();
        Map<String, Integer> remarks = new TreeMap<>();
        for (SingleValidationMessage message :
                validator.validateWithResult(json).getMessages()) {
            if (message.getSeverity().ordinal() >= ResultSeverityEnum.ERROR.ordinal()) {
                errors.add(message.getLocationString() + ": " + message.getMessage());
            } else {
                remarks.merge(kind(message), 1, Integer::sum);
            }
        }
        return new Findings(errors, remarks);
    }

    private static String kind(SingleValidationMessage message) {
        String id = String.valueOf(message.getMessageId());
        String location = String.valueOf(message.getLocationString());
        return id.startsWith("Terminology")
                ? id + " " + location.substring(location.lastIndexOf('.') + 1).replaceAll("\\[.*", "")
                : id;
    }

    /** What is wrong, a sentence each; warnings are left out. */
    List<String> errors(String json) {
        return findings(json).errors();
    }

    static Bundle bundle(String json) {
        return R4.newJsonParser().parseResource(Bundle.class, json);
    }

    static String json(IBaseResource resource) {
        return R4.newJsonParser().encodeResourceToString(resource);
    }
}
